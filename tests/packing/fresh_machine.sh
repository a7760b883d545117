#!/bin/sh
# Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later
# Both commands of the README on a fresh machine: a minimal Debian 12 in a
# folder, from the mirror that this machine uses; and its examples, as the first
# command says that they are tried and installed. Tests the committed state.
# Needs root, debootstrap and git.
set -eu
cd "$(dirname "$0")/../.."
suite=bookworm
[ "$(id -u)" -eq 0 ] || { echo "only root can make a machine" >&2 && exit 1; }

# shellcheck disable=SC2016 # the names are apt-get's
mirror=$(apt-get indextargets --format '$(CODENAME) $(REPO_URI)' \
    'Created-By: Packages' | sed -n "s/^$suite //p" | head -n 1)
machine=$(mktemp -d)
# the mounts below have ended with their name space by then
trap 'rm -rf --one-file-system "$machine"' EXIT

debootstrap --variant=minbase "$suite" "$machine" "$mirror"
rm -f "$machine/etc/apt/sources.list"
for file in sources.list sources.list.d trusted.gpg.d preferences.d; do
    [ ! -e "/etc/apt/$file" ] || cp -RL "/etc/apt/$file" "$machine/etc/apt/"
done
cp -L /etc/resolv.conf /etc/hosts "$machine/etc/"
git clone --quiet . "$machine/midweight"

# inside COMMAND: run it in the fresh machine, with an environment of its own
inside() {
    # shellcheck disable=SC2016 # the inner shell has $0 and $1
    unshare --mount sh -euc '
        mount --rbind /dev "$0/dev"
        mount -t proc proc "$0/proc"
        exec chroot "$0" /usr/bin/env -i HOME=/root LANG=C.UTF-8 \
            PATH=/usr/local/bin:/usr/sbin:/usr/bin:/sbin:/bin \
            sh -c "cd /midweight && $1"' "$machine" "$1"
}

inside "sh examples/first-mix.sh" >"$machine/first"
grep "at 12 C" "$machine/first"
offered() {
    grep "^ *$1" "$machine/first"
}
# shellcheck disable=SC2016 # the shell of the fresh machine has it
examples='python3 tests/cli/run_readme.py "$(command -v midweight)" README.md'
inside "$(offered PATH=) && $examples"
inside "$(offered "meson install") && $examples && $(offered "midweight mix")"
inside "sh tests/run.sh" | tee "$machine/count"
grep -q "passed, 0 failed" "$machine/count"
