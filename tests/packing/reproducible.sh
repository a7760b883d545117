#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
# Two builds in different folders give the same bytes: what is installed from
# BUILD is compared with what a copy of the tree in another folder installs.
#
#     reproducible.sh BUILD
set -eu
there=$(mktemp -d)
trap 'rm -rf "$there"' EXIT
mkdir "$there/a longer name"
cp -R meson.build README.md DEVELOPERS.md lib cli tests reference examples \
    "$there/a longer name"
meson setup "$there/a longer name/build" "$there/a longer name" -Dwerror=true
ninja -C "$there/a longer name/build"
for build in "$1" "$there/a longer name/build"; do
    meson install -C "$build" --no-rebuild --destdir "$there/$(basename "$build")"
done
diff -r "$there/$(basename "$1")" "$there/build"
