#!/bin/sh
# Sets up what `make` needs, once: sh workshop/install.sh run|test|postgres|audit
#   run   .venv with the pinned dependencies, and the PDF maker's system libraries
#   test  the same, with the test dependencies and the Chromium browser
#   audit  tools that look at the packages, in an environment of their own
#   postgres  the same as test, with a PostgreSQL server to test on and its driver
# Stamps in .venv remember what was installed, so a second call takes no time.
set -eu
cd "$(dirname "$0")/.."

purpose=${1:-run}
uv_version=$(sed -n 's/^uv==\([^ ]*\).*/\1/p' workshop/installer.txt)
pdf_packages="libpango-1.0-0 libpangoft2-1.0-0 libharfbuzz-subset0 fonts-dejavu-core fonts-freefont-ttf fonts-droid-fallback fonts-nanum fonts-symbola fonts-vlgothic"
browser_packages="chromium-headless-shell libatomic1"
reading_packages="admesh cura-engine"

say() { echo "Dialside set-up: $*" >&2; }
fail() { say "$*"; exit 1; }

# Installs the named Debian packages that are missing: as root by itself, else says how.
debian() {
    command -v dpkg-query >/dev/null || { say "not a Debian machine; make sure it has: $*"; return; }
    missing=
    for package in "$@"; do
        dpkg-query -W -f '${Status}' "$package" 2>/dev/null | grep -q ' installed$' || missing="$missing $package"
    done
    [ -n "$missing" ] || return 0
    [ "$(id -u)" = 0 ] || fail "these Debian packages are missing:$missing
Install them with:
    sudo apt install$missing
and then run the same command again."
    say "installing$missing"
    export DEBIAN_FRONTEND=noninteractive
    { apt-get -qq -o DPkg::Lock::Timeout=120 update &&
        apt-get -qq -o DPkg::Lock::Timeout=120 install --no-install-recommends $missing; } >/dev/null ||
        fail "apt-get could not install$missing; its own words are above."
}

packages() {
    needed=$pdf_packages
    [ "$purpose" = run ] || needed="$needed $browser_packages $reading_packages"
    [ "$purpose" != postgres ] || needed="$needed postgresql"
    "$python" -c 'import ensurepip, venv' 2>/dev/null || needed="$needed python3.11-venv"
    debian $needed
}

environment() {
    .venv/bin/python -c '' 2>/dev/null && return
    say "creating .venv"
    "$python" -m venv --clear .venv || fail "could not create .venv; Python's own words are above."
}

dependencies() {
    groups="--group run"
    [ "$purpose" = run ] || groups="$groups --group test"
    [ "$purpose" != postgres ] || groups="$groups --group postgres"
    case ${DIALSIDE_FILES:-} in s3:*) groups="$groups --group s3" ;; esac
    case ${DIALSIDE_DATABASE:-} in postgres*) groups="$groups --group postgres" ;; esac
    stamp=.venv/installed-$(echo "$groups" | tr -d ' -')
    wanted=$(cat pyproject.toml constraints.txt workshop/install.sh | cksum)
    [ "$(cat "$stamp" 2>/dev/null)" != "$wanted" ] || return 0
    say "installing the pinned Python packages ($purpose)"
    [ "$(.venv/bin/uv --version 2>/dev/null | cut -d' ' -f2)" = "$uv_version" ] ||
        .venv/bin/python -m pip -qq --disable-pip-version-check install --require-hashes -r workshop/installer.txt ||
        fail "could not download uv, the package installer; its own words are above."
    .venv/bin/uv pip install --quiet --python .venv/bin/python -c constraints.txt --require-hashes $groups ||
        fail "could not install the Python packages; the installer's own words are above."
    echo "$wanted" >"$stamp"
}

tools() {
    stamp=.venv/tools/installed
    wanted=$(cksum <workshop/audit.txt)
    [ "$(cat "$stamp" 2>/dev/null)" != "$wanted" ] || return 0
    say "installing the tools that look at the packages"
    "$python" -m venv .venv/tools || fail "could not create .venv/tools; Python's own words are above."
    .venv/bin/uv pip install --quiet --python .venv/tools/bin/python -c workshop/audit.txt --require-hashes --group audit ||
        fail "could not install the tools; the installer's own words are above."
    echo "$wanted" >"$stamp"
}

case $purpose in run | test | postgres | audit) ;; *) fail "say run, test, postgres or audit, not '$purpose'." ;; esac
python=$(command -v python3.11) || fail "Python 3.11 is needed, and no python3.11 was found on this machine."
if [ "$purpose" = audit ]; then
    tools
    exit
fi
packages
environment
dependencies
