# Makes .venv (or another environment) in the repository from a lock file, and leaves it alone while nothing has changed.
# Sourced after say.sh and privileges.sh; needs $repository.

# Prints the first Python of 3.11 or later that really runs (a shim of a version manager may be found and not run).
find_python() {
    local name
    for name in python3.11 python3.12 python3.13 python3.14 python3 python; do
        if "$name" -c 'import sys; raise SystemExit(sys.version_info < (3, 11))' >/dev/null 2>&1; then
            command -v "$name"
            return 0
        fi
    done
    return 1
}

# True when this Python can make an environment with pip in it. Debian ships it without that part.
can_make_environment() { "$1" -c 'import ensurepip, venv' >/dev/null 2>&1; }

# Installs Debian's missing part for this Python where that is allowed.
complete_python() {
    local python=$1 version
    can_make_environment "$python" && return 0
    version=$("$python" -c 'import sys; print("%d.%d" % sys.version_info[:2])')
    say "this Python ($python) cannot make environments; Debian keeps that part in python$version-venv"
    install_debian_packages "python$version-venv" || true
    can_make_environment "$python" || stop "install python$version-venv, then run this again"
}

# What the environment depends on, as one line: the lock file, how the package is built, the place, the Python.
# (Not the whole of pyproject.toml: a rule of style that changes is no reason to fetch everything again.)
fingerprint_of() {
    "$1" - "$repository" "$2" <<'PYTHON'
import hashlib, json, pathlib, sys, tomllib

root, lock = pathlib.Path(sys.argv[1]), sys.argv[2]
table = tomllib.loads((root / "pyproject.toml").read_text(encoding="utf-8"))
built = {"project": table["project"], "build": table["build-system"], "hatch": table["tool"]["hatch"]}
parts = [(root / lock).read_text(encoding="utf-8"), json.dumps(built, sort_keys=True), str(root), sys.version]
print(hashlib.sha256(json.dumps(parts).encode()).hexdigest())
PYTHON
}

# True when an environment (.venv if none is named) holds what this lock file asks for. One made for the tests serves the
# demo too.
is_current() {
    local lock=$1 environment=$repository/${2:-.venv}
    local python=$environment/bin/python stamp=$environment/installed-from
    [ -f "$stamp" ] && "$python" -c '' 2>/dev/null || return 1
    grep -qxF "$lock $(fingerprint_of "$python" "$lock")" "$stamp" && return 0
    [ "$lock" = "$RUN_LOCK" ] && is_current "$ALL_LOCK" "${2:-.venv}"
}

ALL_LOCK=scripts/requirements.lock
RUN_LOCK=scripts/requirements-run.lock

# Makes or renews an environment from a lock file (path relative to the repository): .venv with the first Python that
# serves, unless a folder and a Python are named.
make_environment() {
    local lock=$1 folder=${2:-.venv} python=${3:-}
    if is_current "$lock" "$folder"; then
        say "unchanged: $folder is as $lock asks"
        return 0
    fi
    [ -n "$python" ] || python=$(find_python) ||
        stop "no Python of 3.11 or later was found; install one (Debian: apt-get install python3)"
    complete_python "$python"
    say "making $folder with $python ($("$python" -c 'import platform; print(platform.python_version())')) from $lock"
    "$python" -m venv --clear "$repository/$folder"
    install_from "$lock" "$folder"
}

# Installs what the lock file names, each file checked against its hash, then this package itself as a link to src.
# A library's modules are compiled when they are first used: most of them never are.
install_from() {
    local lock=$1 environment=$repository/${2:-.venv}
    local python=$environment/bin/python quiet="--quiet --disable-pip-version-check --no-input"
    "$python" -m pip install $quiet --no-compile --only-binary :all: --require-hashes -r "$repository/$lock"
    "$python" -m pip install $quiet --no-build-isolation --no-deps --editable "$repository"
    printf '%s %s\n' "$lock" "$(fingerprint_of "$python" "$lock")" >"$environment/installed-from"
}
