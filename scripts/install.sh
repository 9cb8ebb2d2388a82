#!/bin/sh
# Makes .venv and installs barstock into it: sh scripts/install.sh '.[dev]'
# What Debian lacks is installed where this runs as root, else said.
set -eu

want=${1:-.}

# Another apt-get may be at work: its locks are waited for, ten minutes at the most.
in_turn() {
    tries=0
    until said=$(LC_ALL=C DEBIAN_FRONTEND=noninteractive "$@" 2>&1); do
        tries=$((tries + 1))
        case $said in
        *"ould not get lock"* | *"nable to acquire the dpkg"*) ;;
        *) tries=120 ;;
        esac
        [ "$tries" -lt 120 ] || { echo "$said" >&2; exit 1; }
        sleep 5
    done
}

debian() {
    if [ "$(id -u)" = 0 ] && command -v apt-get >/dev/null; then
        echo "installing $*"
        in_turn apt-get update -qq
        in_turn apt-get install -y -qq --no-install-recommends "$@"
    else
        echo "This machine lacks: $*" >&2
        echo "Install them (on Debian: sudo apt-get install $*) and run make again." >&2
        exit 1
    fi
}

new_enough() {
    command -v "$1" >/dev/null &&
        "$1" -c 'import sys; sys.exit(sys.version_info < (3, 11))' 2>/dev/null
}

python=
for name in ${PYTHON:-} python3 python3.14 python3.13 python3.12 python3.11; do
    if new_enough "$name"; then
        python=$name
        break
    fi
done
if [ -z "$python" ]; then
    debian python3
    python=python3
    new_enough python3 || { echo "barstock needs Python 3.11 or later." >&2; exit 1; }
fi

if [ ! -x .venv/bin/pip ]; then
    if ! "$python" -c 'import ensurepip, venv' 2>/dev/null; then
        debian python3-venv
    fi
    rm -rf .venv
    "$python" -m venv .venv
fi

.venv/bin/pip install --quiet --disable-pip-version-check -c constraints.txt -e "$want"

# The CAD kernel is linked to these, which a bare Debian has not got.
if ! .venv/bin/python -c 'import OCP.gp' 2>/dev/null; then
    debian libgl1 libx11-6 libexpat1
    .venv/bin/python -c 'import OCP.gp'
fi

# The tests look at the bench pages in a real browser, and keep the log in a real PostgreSQL.
if [ "$want" != . ]; then
    command -v chromium >/dev/null || debian chromium
    ls /usr/lib/postgresql/*/bin/initdb >/dev/null 2>&1 || debian postgresql
fi
