# Installing Debian's packages where this account may. Sourced after say.sh.

# Prints the word to put before a command that changes the system (nothing for root); fails where that is not allowed.
privilege() {
    if [ "$(id -u)" = 0 ]; then
        return 0
    fi
    sudo -n true >/dev/null 2>&1 && printf 'sudo -n'
}

# Installs packages, with the list of packages renewed first. Says why where it may not, and fails.
install_debian_packages() {
    local before log
    command -v apt-get >/dev/null 2>&1 || { say "not installed, since this machine has no apt-get: $*"; return 1; }
    before=$(privilege) || { say "not installed, since this account is not root and has no sudo without password: $*"; return 1; }
    say "installing with apt-get: $*"
    log=$(mktemp)
    if run_apt "$before" "$@" >"$log" 2>&1 </dev/null; then
        rm -f "$log"
        return 0
    fi
    say "apt-get failed; the end of what it said:"
    tail -n 15 "$log"
    rm -f "$log"
    return 1
}

run_apt() {
    local before=$1
    shift
    export DEBIAN_FRONTEND=noninteractive
    $before apt-get update
    $before apt-get install --yes --no-install-recommends -o Dpkg::Use-Pty=0 "$@"
}
