#!/bin/sh
# Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later
# Static analysis of lib/ and cli/: no finding may be left. A false positive is
# suppressed where it occurs, with a reason.
#
#     analysis.sh BUILD NAME    where NAME is clang-tidy, cppcheck or clang: its
#                               path-sensitive analyzer, which takes as long as
#                               all of clang-tidy's other checks do three times,
#                               and so runs in tests/long.sh
set -eu
build=$1
sources=$(find lib cli -name '*.c' | LC_ALL=C sort)

# one file a run: clang-tidy 14 remembers va_start() of the file before
clang_tidy() {
    echo "$sources" | xargs -P "$(nproc)" -n 1 \
        clang-tidy -p "$build" --quiet --checks="$1"
}

cppcheck_all() {
    # shellcheck disable=SC2086 # a list of files is meant
    cppcheck --quiet --error-exitcode=1 --std=c11 -j "$(nproc)" \
        --enable=warning,performance,portability --inline-suppr \
        -D_POSIX_C_SOURCE=200809L -Ilib -Icli -I"$build/lib" -I"$build/cli" $sources
}

case $2 in
clang-tidy) clang_tidy '-clang-analyzer-*' ;;
clang) clang_tidy '-*,clang-analyzer-*' ;;
cppcheck) cppcheck_all ;;
esac
