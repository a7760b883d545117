# Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later
# Sourced by first-mix.sh and tests/run.sh: install what is missing, and build.
# Quiet when all is well.

# need PACKAGE...: have these Debian packages installed.
need() {
    missing=
    for package in "$@"; do
        dpkg-query -W -f '${db:Status-Status}\n' "$package" 2>/dev/null |
            grep -qx installed || missing="$missing $package"
    done
    [ -z "$missing" ] && return 0
    as_root=
    if [ "$(id -u)" -ne 0 ]; then
        as_root=sudo
    fi
    if ! command -v apt-get >/dev/null ||
        { [ -n "$as_root" ] && ! command -v sudo >/dev/null; }; then
        echo "Please install (Debian's names):$missing" >&2
        return 1
    fi
    # shellcheck disable=SC2086 # a list of packages is meant
    quietly $as_root apt-get update &&
        quietly $as_root env DEBIAN_FRONTEND=noninteractive \
            apt-get install -y --no-install-recommends $missing
}

# quietly COMMAND...: show what it printed only if it fails.
quietly() {
    quiet_log=$(mktemp) || return 1
    if "$@" >"$quiet_log" 2>&1; then
        rm -f "$quiet_log"
        return 0
    fi
    cat "$quiet_log" >&2
    rm -f "$quiet_log"
    echo "failed: $*" >&2
    return 1
}

# What the program itself is built from and with.
build_packages="gcc libc6-dev meson ninja-build pkg-config mawk libgsl-dev \
libjansson-dev libsqlite3-dev libcsv-dev libcairo2-dev libpango1.0-dev \
fonts-dejavu-core"

# build FOLDER [MESON OPTION...]: configure once, then compile.
build() {
    build_folder=$1
    shift
    if [ ! -f "$build_folder/build.ninja" ]; then
        quietly meson setup "$build_folder" "$@" || return 1
    fi
    quietly ninja -C "$build_folder"
}
