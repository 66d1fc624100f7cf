# Later Pythons than the one of .venv. Sourced after say.sh, privileges.sh and environment.sh.

# The versions that the lock files are made for, newest first; `classifiers` in pyproject.toml names those seen to pass.
LATER_PYTHONS="3.14 3.13 3.12"

# Prints the newest Python of LATER_PYTHONS that runs and can make environments: of the path, or kept by a version manager.
newest_python() {
    local version name
    for version in $LATER_PYTHONS; do
        for name in "python$version" "${PYENV_ROOT:-$HOME/.pyenv}/versions/$version".*/bin/python; do
            if is_released "$name" "$version" && can_make_environment "$name"; then
                command -v "$name"
                return 0
            fi
        done
    done
    return 1
}

# True where this Python really runs (a shim may be found and not run), is of that version, and no forerunner of it.
is_released() {
    "$1" -c 'import sys; raise SystemExit(f"{sys.version_info[0]}.{sys.version_info[1]}" != sys.argv[1] or sys.version_info[3] != "final")' \
        "$2" >/dev/null 2>&1
}

# Installs the newest of LATER_PYTHONS that Debian offers here, where that is allowed.
install_later_python() {
    local version
    command -v apt-cache >/dev/null 2>&1 || return 1
    for version in $LATER_PYTHONS; do
        if [ -n "$(apt-cache show "python$version-venv" 2>/dev/null)" ]; then
            install_debian_packages "python$version-venv" && return 0
        fi
    done
    return 1
}

# Prints the newest later Python, installed if need be; what is said on the way goes to standard error.
provide_later_python() {
    newest_python && return 0
    install_later_python >&2 || true
    hash -r
    newest_python
}
