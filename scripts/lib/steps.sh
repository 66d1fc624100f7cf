# Steps of a longer run. Sourced after say.sh.

# Runs one step under a heading, prints its seconds, and ends the script with the step's exit code when it fails.
step() {
    local title=$1 began=$SECONDS code
    shift
    heading "$title"
    set +e  # not `("$@") || ...`: bash would then ignore every failure inside but the last
    (set -e; "$@")
    code=$?
    set -e
    if [ "$code" != 0 ]; then
        say "--- FAILED with exit code $code after $((SECONDS - began)) s: $title"
        exit "$code"
    fi
    say "--- $((SECONDS - began)) s: $title"
}
