#!/usr/bin/python3
# Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later
"""The manual pages are valid roff for groff, as man calls it, and for mandoc, with
all of their warnings; each names itself, and shows no comment of a source that
is not meant for it. Prints TAP.

    check_manual.py PAGE...
"""
import os
import re
import subprocess
import sys

sys.path.append(sys.path[0] + "/..")
from tap import Tap

# all pages at once: to start these costs more than to run them
READERS = [
    ["groff", "-mandoc", "-t", "-ww", "-Kutf8", "-Tutf8", "-rLL=78n"],
    ["mandoc", "-Tlint"],
]


def text_of(path):
    with open(path, encoding="utf-8") as file:
        return file.read()


def complaints(folder, names):
    """What the readers say, line by line; each names the page."""
    for reader in READERS:
        result = subprocess.run(reader + names, cwd=folder, text=True,
                                capture_output=True, check=False)
        if reader[0] == "mandoc":
            yield from result.stdout.splitlines()
        yield from result.stderr.splitlines()


def faults_of(name, text):
    stem = name.rsplit(".", 1)[0]
    named = re.search(r"^\.SH NAME\n(\S+) ", text, re.M)
    if not named or named[1].replace("\\-", "-") != stem:
        yield f"does not name itself {stem}"
    if "SPDX" in text:
        yield "shows the licence of a source"


def main():
    tap = Tap()
    folder = os.path.dirname(os.path.abspath(sys.argv[1]))
    texts = {os.path.basename(path): text_of(path) for path in sys.argv[1:]}
    said = list(complaints(folder, list(texts)))
    for name, text in texts.items():
        tap.holds(name, [*faults_of(name, text),
                         *(line for line in said if name in line)])
    known = [line for line in said if any(name in line for name in texts)]
    tap.holds("nothing else", [line for line in said if line not in known])
    return tap.end()


if __name__ == "__main__":
    sys.exit(main())
