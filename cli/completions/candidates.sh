#!/bin/sh
# Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later
# What may stand at the end of a command line, for the completions of bash, zsh
# and fish. The program tells it itself: commands and options by its help,
# bottles by its stock.
#
#     candidates WORD...    those after "midweight", the unfinished one last
#
# Prints a candidate and, behind a tab, what it is, a line each; exit 1 asks for
# a file instead.
set -u
tab=$(printf '\t')

# the help of the command so far
help_of() {
    # shellcheck disable=SC2086 # a command of two words is two words
    midweight $command --help 2>/dev/null
}

commands_of() {
    help_of | sed -n "/^Commands:\$/,/^\$/s/^  \([a-z]* \)\{0,1\}\([a-z]\{1,\}\) \{2,\}/\2$tab/p"
}

options_of() {
    help_of | sed -n "s/^ \{2,6\}\(-., \)\{0,1\}\(--[a-z-]*\)[^ ]* \{2,\}/\2$tab/p"
}

# the name of the value of an option, such as FILE
value_of() {
    help_of | sed -n "s/^ \{2,6\}\(-., \)\{0,1\}$1=\([^ ]*\).*/\2/p"
}

# the bottles: the first field of each row but the first
bottles() {
    if [ -n "$stock" ]; then
        set -- --stock "$stock"
    fi
    midweight stock list --csv "$@" 2>/dev/null |
        sed -n "2,\$ { s/^\"\(\([^\"]\|\"\"\)*\)\".*/\1${tab}a bottle/; s/\"\"/\"/g; p; }"
}

# one word that is finished
take() {
    [ "$1" = "=" ] && return # bash takes --option=value apart
    [ "$before" = --stock ] && stock=$1
    if [ "$names" = yes ] && commands_of | cut -f 1 | grep -qxF -- "$1"; then
        command="$command $1"
    else
        names=no
    fi
    before=$1
}

command=  # "mix" or "stock add"
names=yes # while every word was the name of a command
stock=    # the value of --stock
before=   # the last word that is finished
while [ $# -gt 1 ]; do
    take "$1"
    shift
done

[ "$before" = -o ] && before=--output
case $before in
*[!a-z-]*) value= ;; # no option
--?*) value=$(value_of "$before") ;;
*) value= ;;
esac
case $value in
FILE) exit 1 ;;
NAME) bottles && exit ;;
?*) exit 0 ;; # nobody knows it but the user
esac
case ${1-} in
--*=*)
    # the shell asks for the whole word, and fish would take an option that is
    # merely like it
    name=${1%%=*}
    case $name in
    *[!a-z-]*) exit 0 ;;
    esac
    case $(value_of "$name") in
    FILE) exit 1 ;;
    NAME) bottles | sed "s/^/$name=/" ;;
    esac
    ;;
-*) options_of | WORD=$1 awk 'index($0, ENVIRON["WORD"]) == 1' ;;
*)
    commands=$(commands_of)
    if [ "$names" = yes ] && [ -n "$commands" ]; then
        echo "$commands"
    elif help_of | grep -q '^Usage:.* FILE'; then
        exit 1
    else
        bottles
    fi
    ;;
esac
