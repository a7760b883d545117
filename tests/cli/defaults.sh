#!/bin/sh
# Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later
# The file of defaults. Prints TAP.
. "$(dirname "$0")/tap.sh"

MIDWEIGHT_DEFAULTS=$folder/defaults
cat >"$MIDWEIGHT_DEFAULTS" <<'END'
# the pit box
syringe = 0.2ml   # graduated

  make=10ml
thermometer = 0.5
waste = 5%
paper = A5
END

says "Pour 7.2 ml of 300 and 3.4 ml of 400: 10.6 ml of 330 mm2/s" \
    mix 300 400 --target 330
says "By default: --syringe 0.2ml. By default: --make 10ml." \
    mix 300 400 --target 330 --explain
holds "without --explain they are not spoken of" test \
    "$("$program" mix 300 400 --target 330 | grep -c default)" -eq 0
holds "and in JSON" test "$("$program" mix 300 400 --target 330 --json |
    jq -c .defaults)" = \
    '{"syringe":"0.2ml","make":"10ml","thermometer":"0.5","waste":"5%"}'

# the command line wins, and a tool there displaces the default one
says "g of 300" mix 300 400 --target 330 --scale 0.01
says "20.4 ml of 330" mix 300 400 --target 330 --make 20ml --waste 2%
says "Add 6.6 ml of 300: 18.6 ml" mix 380=12ml 300 --target 350
says "347 mm2/s at 25 C, 16 % thicker" mix 300=1 400=1
says "Mix 67.6 %" mix 300 400 --target 330 --no-defaults

# commands without the option ignore it; the thermometer is everybody's
says "+-6.9 % (k = 2)" oil 450 --at 12C
says "Fill silicone oil" hold 450 --to 12C

# the stock
printf 'stock = %s/other.db\n' "$folder" >>"$MIDWEIGHT_DEFAULTS"
says "Added Elm" stock add Elm 350
holds "MIDWEIGHT_STOCK goes before the default" test ! -e "$folder/other.db"
unset MIDWEIGHT_STOCK
says "Added Elm" stock add Elm 350
holds "the default stock" test -e "$folder/other.db"
says "No bottle yet" stock list --stock "$folder/third.db"

# a line that is none
for line in "syringe 0.2ml" "colour = red" "make =" "= 3" "json = 1"; do
    printf '# first\n%s\n' "$line" >"$MIDWEIGHT_DEFAULTS"
    says "line 2: write a default such as" oil 350
    ends 2 oil 350
done
ends 0 oil 350 --no-defaults
printf 'syringe = 0.2ml\000\n' >"$MIDWEIGHT_DEFAULTS"
says "is no file of defaults" oil 350
head -c 70000 /dev/zero | tr '\0' '#' >"$MIDWEIGHT_DEFAULTS"
says "is no file of defaults" oil 350
printf 'make = 10apples\n' >"$MIDWEIGHT_DEFAULTS"
ends 2 mix 300 400 --target 330
MIDWEIGHT_DEFAULTS=$folder/none
says "No such file" oil 350
ends 3 oil 350
MIDWEIGHT_DEFAULTS=$folder
ends 3 oil 350

# where the file is
unset MIDWEIGHT_DEFAULTS
XDG_CONFIG_HOME=$folder/config
export XDG_CONFIG_HOME
ends 0 oil 350
mkdir -p "$XDG_CONFIG_HOME/midweight" "$folder/home/.config/midweight"
echo "make = 7ml" >"$XDG_CONFIG_HOME/midweight/defaults"
echo "make = 8ml" >"$folder/home/.config/midweight/defaults"
HOME=$folder/home
export HOME
says "7.00 ml of 330" mix 300 400 --target 330
unset XDG_CONFIG_HOME
says "8.00 ml of 330" mix 300 400 --target 330
plan
