#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
# The library keeps nothing between calls, allocates nothing and prints nothing:
# no byte of it can be written to, and nothing that does so is called.
#
#     stateless.sh ARCHIVE
set -eu
if size -A "$1" | awk '$1 ~ /^\.t?(data|bss)/ && $2 > 0 && !/\.rel\.ro/' |
    grep .; then
    echo "data that can be written to" >&2
    exit 1
fi
if nm -u "$1" | awk '{print $NF}' | grep -Ex '.*alloc|free|.*dup|.*printf.*|'\
'f?put.*|puts|f?write|f?open|f?exit|abort|signal|setlocale|getenv|rand|strtok|'\
'gsl_.*_alloc|gsl_.*_free|gsl_set_error_handler.*'; then
    echo "is called" >&2
    exit 1
fi
# both tools did read it
[ "$(nm "$1" | grep -c ' T mw_')" -gt 100 ]
