#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
# What compilers and checkers find in lib/ and cli/ by reading: nothing may be
# left. A finding that is not true is suppressed where it stands, with a reason.
#
#     analysis.sh BUILD NAME    where NAME is gcc, clang-tidy or cppcheck
set -eu
build=$1
sources=$(find lib cli -name '*.c' | LC_ALL=C sort)

# by the shared library, so that the program also proves to use nothing of the
# library but what is public
gcc_analyzer() {
    [ -f "$build/build.ninja" ] ||
        meson setup "$build" -Dwerror=true -Dc_args=-fanalyzer \
            -Ddefault_library=shared
    ninja -C "$build" cli/midweight cli/midweight-card
}

# one file a run: clang-tidy 14 remembers va_start() of the file before
clang_tidy() {
    echo "$sources" | xargs -P "$(nproc)" -n 1 clang-tidy -p "$build" --quiet
}

cppcheck_all() {
    # shellcheck disable=SC2086 # a list of files is meant
    cppcheck --quiet --error-exitcode=1 --std=c11 -j "$(nproc)" \
        --enable=warning,performance,portability --inline-suppr \
        -D_GNU_SOURCE -Ilib -Icli -I"$build/lib" -I"$build/cli" $sources
}

case $2 in
gcc) gcc_analyzer ;;
clang-tidy) clang_tidy ;;
cppcheck) cppcheck_all ;;
esac
