#!/bin/sh
# Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later
# Two builds in different folders give the same bytes: what is installed from
# BUILD, inside the tree, is compared with what is built from a copy of the tree in
# a folder outside of it.
#
#     reproducible.sh BUILD
set -eu
there=$(mktemp -d)
trap 'rm -rf "$there"' EXIT
mkdir "$there/a longer name"
cp -R meson.build README.md DEVELOPERS.md lib cli tests reference examples \
    "$there/a longer name"
meson setup "$there/outside/of/it" "$there/a longer name" -Dwerror=true
ninja -C "$there/outside/of/it"
for build in "$1" "$there/outside/of/it"; do
    meson install -C "$build" --no-rebuild --destdir "$there/$(basename "$build")"
done
diff -r "$there/$(basename "$1")" "$there/it"
