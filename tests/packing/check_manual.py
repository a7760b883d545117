#!/usr/bin/python3
# Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later
"""The manual pages are valid roff for groff, as man calls it, and for mandoc, with
all of their warnings; one that is a link leads to a page with its name. Prints
TAP.

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


def link_faults(folder, name, to):
    path = os.path.join(folder, os.path.basename(to))
    if not os.path.exists(path):
        return [f"leads to {to}, which is not there"]
    named = re.search(r"^\.SH NAME\n(.*?)^\.SH", text_of(path), re.M | re.S)[1]
    wanted = name.rsplit(".", 1)[0]
    return [] if wanted in re.findall(r"\w+", named) else \
        [f"leads to {to}, which does not name it"]


def main():
    tap = Tap()
    folder = os.path.dirname(os.path.abspath(sys.argv[1]))
    texts = {os.path.basename(path): text_of(path) for path in sys.argv[1:]}
    links = {name: found[1] for name, text in texts.items()
             if (found := re.fullmatch(r"\.so man\d/(\S+)\n", text))}
    pages = [name for name in texts if name not in links]
    said = list(complaints(folder, pages))
    for name in pages:
        tap.holds(name, [line for line in said if name in line])
    known = [line for line in said if any(name in line for name in pages)]
    tap.holds("nothing else", [line for line in said if line not in known])
    for name, to in links.items():
        tap.holds(f"{name} is a link", link_faults(folder, name, to))
    return tap.end()


if __name__ == "__main__":
    sys.exit(main())
