#!/bin/sh
# Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later
# What "meson install" installs, in use: programs in C and C++ outside the tree,
# manual pages, and the completions of three shells. Prints TAP.
#
#     installed.sh MESON BUILD CONSUMER.c EXPORTED.txt
set -u
meson=$1
build=$2
consumer=$3
exported=$4
number=0
root=$(mktemp -d) || exit 1
trap 'rm -rf "$root"' EXIT
export HOME="$root/home"
unset MIDWEIGHT_STOCK XDG_DATA_HOME
mkdir "$HOME"
cd "$root" || exit 1

# holds NAME CONDITION...: one test
holds() {
    name=$1
    shift
    number=$((number + 1))
    if "$@" >out 2>&1; then
        echo "ok $number - $name"
    else
        echo "not ok $number - $name"
        sed 's/^/# /' out
    fi
}

holds "everything can be installed" \
    "$meson" install -C "$build" --no-rebuild --destdir "$root"
prefix=$(dirname "$(dirname "$(find "$root" -path '*/bin/midweight')")")
PATH=$prefix/bin:$PATH
export PATH

# -- Programs that use the library ---------------------------------------

PKG_CONFIG_LIBDIR=$(dirname "$(find "$root" -name midweight.pc)")
PKG_CONFIG_LIBDIR=$PKG_CONFIG_LIBDIR:$(pkg-config --variable pc_path pkg-config)
PKG_CONFIG_SYSROOT_DIR=$root
LD_LIBRARY_PATH=$(dirname "$(find "$root" -name 'libmidweight.so.?')")
export PKG_CONFIG_LIBDIR PKG_CONFIG_SYSROOT_DIR LD_LIBRARY_PATH
strict="-Wall -Wextra -Wpedantic -Wconversion -Werror"

# consume COMPILER FLAG...: build a program with pkg-config, and run it
consume() {
    # shellcheck disable=SC2046,SC2086 # flags are words
    "$@" $strict -o consumer "$consumer" \
        $(pkg-config --cflags --libs midweight) &&
        [ "$(./consumer)" = "10.4 ml, 336 to 365 mm2/s, midweight $(
            pkg-config --modversion midweight)" ]
}

holds "a program in C" consume cc -std=c99
holds "a program in C, newest" consume cc -std=c2x
holds "a program in C++" consume c++ -std=c++11 -x c++
holds "a program in C++, newest" consume c++ -std=c++20 -x c++
holds "its shared library has a version" \
    sh -c "readelf -d consumer | grep -q 'libmidweight.so.[0-9]'"

# each header of the library alone, as C and as C++
alone() {
    for header in "$prefix"/include/midweight/*.h; do
        echo "#include <midweight/$(basename "$header")>" >alone.c
        # shellcheck disable=SC2046,SC2086 # flags are words
        "$@" $strict -fsyntax-only $(pkg-config --cflags midweight) alone.c ||
            return 1
    done
}
holds "each header alone, in C" alone cc -std=c99
holds "each header alone, in C++" alone c++ -std=c++11 -x c++

# -- The program -----------------------------------------------------------

holds "the program runs" midweight mix 350 500 --target 420
libexec=$(dirname "$(find "$root" -name midweight-card)")
holds "midweight-card is not on the path" test "$libexec" != "$prefix/bin"
draws() {
    rm -f sheet.svg
    "$@" card mix 350 500 -o sheet.svg && [ -s sheet.svg ]
}
holds "it is found from the program" draws midweight
holds "and by a link to it" sh -c 'ln -s "$1" link && ./link card mix 350 500 \
    -o link.svg && [ -s link.svg ]' sh "$prefix/bin/midweight"
mv "$prefix" "$root/moved"
holds "and after all was moved" draws "$root/moved/bin/midweight"
mv "$root/moved" "$prefix"
mkdir -p other
cp "$prefix/bin/midweight" other/
printf '#!/bin/sh\ntouch "%s/ran"\n' "$root" >other/midweight-card
chmod +x other/midweight-card
beside_a_copy() {
    PATH=$root/other:$PATH other/midweight card mix 350 500 -o no.svg
    [ $? -eq 3 ] && ! [ -e ran ]
}
holds "a program beside a copy is not run" beside_a_copy
for command in $(midweight --help |
    sed -n '/^Commands:$/,/^$/s/^  \([a-z]*\) .*/\1/p'); do
    holds "$command has a page" \
        test -f "$prefix/share/man/man1/midweight-$command.1"
done
while read -r function; do
    [ -s "$prefix/share/man/man3/$function.3" ] || echo "$function"
done <"$exported" >without
holds "each function has a page" cmp without /dev/null
opens() {
    man -M "$prefix/share/man" mw_cup_time | grep -q "takes to run out"
}
holds "which man finds by its name" opens

midweight stock export | head -n 1 | tr -d '"\r' | tr , '\n' >columns
described() {
    while read -r column; do
        grep -qxF ".B $column" "$prefix/share/man/man5/midweight-stock.5" ||
            echo "$column"
    done <columns >without
    [ -s columns ] && ! [ -s without ] || { cat without && return 1; }
}
holds "each column of a table is described" described

# -- Completions -----------------------------------------------------------

# stubs have the installed path, not that of this test
for file in bash-completion/completions/midweight \
    zsh/site-functions/_midweight fish/vendor_completions.d/midweight.fish; do
    sed -i "s#sh /.*/candidates#sh $libexec/candidates#" "$prefix/share/$file"
done
midweight stock add Elm 350 >/dev/null
midweight stock add 'Old "Elm", 2' 361 >/dev/null
midweight stock add Elder 385 --stock "$root/other.db" >/dev/null

# offers CANDIDATES WORD...: the completions of the last word, sorted
offers() {
    expected=$1
    shift
    found=$(sh "$libexec/candidates" "$@" | cut -f 1 | LC_ALL=C sort |
        tr '\n' ',')
    [ "$found" = "$expected" ] || { echo "$found" && return 1; }
}
holds "commands" offers "card,hold,measure,mix,oil,settle,stock," ""
holds "commands of a command" offers "against,ball,calibrate,cup," measure ""
holds "commands of midweight-card" \
    offers "chart,label,mix,temperature," card ""
holds "options" offers "--csv,--explain,--help,--json,--no-defaults,--stock," stock list --
holds "bottles" offers 'Elm,Old "Elm", 2,' mix Elm ""
holds "bottles of another stock" offers "Elder," mix --stock other.db ""
holds "the same with =" offers "Elder," mix --stock = other.db ""
holds "bottles by name" offers 'Elm,Old "Elm", 2,' measure cup --save ""
holds "the same in one word" \
    offers '--save=Elm,--save=Old "Elm", 2,' measure cup --save=
holds "nothing for a rule in one word" offers "" mix --rule=
holds "only options with that beginning" offers "--residue," mix --res
holds "nothing for a number" offers "" mix --target ""
holds "bottles after unusual words" \
    offers 'Elm,Old "Elm", 2,' mix --target=/e --'s;p;e' ""
asks_for_file() {
    sh "$libexec/candidates" "$@"
    [ $? -eq 1 ]
}
holds "files for FILE" asks_for_file stock import ""
holds "files for an option" asks_for_file mix --stock ""
holds "files for a letter" asks_for_file card mix 350 500 -o ""

cat >try.bash <<'END'
. "$1"
COMP_WORDS=(midweight "${@:2}") COMP_CWORD=$(($# - 1))
_midweight
printf '%s\n' "${COMPREPLY[@]}"
END
cat >try.zsh <<'END'
compadd() { print -l -- $names }
_files() { print files }
stub=$1
words=(midweight "${@:2}") CURRENT=$#
. $stub
END
cat >try.fish <<'END'
source $argv[1]
complete -C "midweight $argv[2..-1]"
END

# completes SHELL FILE EXPECTED WORD...: some of what the shell offers
completes() {
    shell=$1 stub=$prefix/share/$2 expected=$3
    shift 3
    "$shell" "try.$shell" "$stub" "$@" >found
    grep -qxF -- "$expected" found || { cat found && return 1; }
}
while read -r shell file; do
    command -v "$shell" >/dev/null || continue
    holds "$shell: commands" completes "$shell" "$file" mix m
    holds "$shell: options" completes "$shell" "$file" --target mix --ta
    holds "$shell: bottles" completes "$shell" "$file" Elm mix El
done <<END
bash bash-completion/completions/midweight
zsh zsh/site-functions/_midweight
END
fish_offers() {
    fish try.fish "$prefix/share/fish/vendor_completions.d/midweight.fish" \
        "$2" >found
    grep -q "^$1" found || { cat found && return 1; }
}
if command -v fish >/dev/null; then
    holds "fish: commands" fish_offers mix m
    holds "fish: options" fish_offers --target "mix --ta"
    holds "fish: bottles" fish_offers Elm "mix El"
    fish_offers_nothing() {
        fish_offers . "$1" >/dev/null
        ! [ -s found ]
    }
    holds "fish: nothing for a rule" fish_offers_nothing "mix --rule="
fi
echo "1..$number"
