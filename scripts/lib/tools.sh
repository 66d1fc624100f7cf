# The programs that the tests use to look at what we write. Sourced after say.sh and privileges.sh.

# One line a program: the command, Debian's package, what the tests use it for.
TOOLS='soffice|libreoffice-calc|opens our workbooks in a second program and saves them again
chromium|chromium|shows our pages
pdftoppm|poppler-utils|turns our PDF files into pictures'

# Prints the lines of TOOLS whose command is missing.
missing_tools() {
    local line
    printf '%s\n' "$TOOLS" | while IFS= read -r line; do
        command -v "${line%%|*}" >/dev/null 2>&1 || printf '%s\n' "$line"
    done
}

# Prints the field (1 command, 2 package, 3 purpose) of lines of TOOLS.
field() { cut -d '|' -f "$1"; }

# Installs what is missing, then says plainly what is still missing and what that costs.
provide_tools() {
    local missing
    missing=$(missing_tools)
    if [ -n "$missing" ]; then
        # Words must split here: one package each.
        install_debian_packages $(printf '%s\n' "$missing" | field 2) || true
        hash -r
        missing=$(missing_tools)
    fi
    if [ -z "$missing" ]; then
        say "found: $(printf '%s\n' "$TOOLS" | field 1 | tr '\n' ' ')"
        return 0
    fi
    tell_missing "$missing"
}

tell_missing() {
    local command package purpose
    printf '%s\n' "$1" | while IFS='|' read -r command package purpose; do
        say "MISSING: $command (Debian: apt-get install $package), which $purpose"
    done
    if [ "${CI:-}" = true ]; then
        say "CI=true: the tests that need them will fail"
    else
        say "the tests that need them are skipped, and pytest names each of them at the end"
    fi
}
