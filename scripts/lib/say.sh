# Lines for people. Sourced by the scripts.

say() { printf '%s\n' "$*"; }

heading() { printf '\n==> %s\n' "$*"; }

# Ends the script with a message on standard error and exit code 1.
stop() {
    printf 'stopped: %s\n' "$*" >&2
    exit 1
}
