#!/usr/bin/python3
# Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later
"""Run every example of the manual pages; print TAP.

The examples of a block are run in order, in a folder with the bottles of the
invented club in stock, and each must succeed.

    run_manual.py PROGRAM PAGE...
"""
import os
import re
import shutil
import subprocess
import sys
import tempfile

sys.path.append(sys.path[0] + "/..")
from tap import Tap

HERE = os.path.dirname(os.path.abspath(__file__))
BOTTLES = os.path.join(HERE, "..", "..", "examples", "bottles.csv")
PLAIN = {r"\e": "\\", r"\-": "-", r"\(aq": "'", r"\(ga": "`", r"\(ha": "^",
         r"\(ti": "~", r"\&": ""}

# what an example needs that the stock of the club does not have
BEFORE = [
    ("midweight stock add Elm", "midweight stock remove Elm"),
    ("midweight stock import", "rm -r .local"),
    ("midweight card label Maple", "midweight stock add Maple 380"),
]


def plain(line):
    """A line of roff as it prints."""
    return re.sub(r"\\(\(..|.)", lambda found: PLAIN[found[0]], line)


def blocks(path):
    """The commands between .EX and .EE, without the comments after them."""
    with open(path, encoding="utf-8") as file:
        text = file.read()
    for block in re.findall(r"^\.EX\n(.*?)^\.EE$", text, re.M | re.S):
        whole = re.sub(r" *\\\n *", " ", plain(block))
        commands = [re.split("  +", line)[0] for line in whole.split("\n")
                    if line.startswith("midweight ")]
        if commands:
            yield commands


def run(command, folder):
    environment = dict(os.environ, HOME=folder, PATH=os.pathsep.join(
        [os.path.join(folder, "bin"), os.environ["PATH"]]))
    for name in ["MIDWEIGHT_STOCK", "XDG_DATA_HOME"]:
        environment.pop(name, None)
    return subprocess.run(["sh", "-c", command], capture_output=True,
                          encoding="utf-8", check=False, timeout=60,
                          cwd=folder, env=environment)


def run_block(program, commands):
    """Yield each command and its result."""
    with tempfile.TemporaryDirectory() as folder:
        os.mkdir(os.path.join(folder, "bin"))
        os.symlink(os.path.abspath(program),
                   os.path.join(folder, "bin", "midweight"))
        shutil.copy(BOTTLES, folder)
        run("midweight stock import bottles.csv", folder)
        for command in commands:
            for start, before in BEFORE:
                if command.startswith(start):
                    run(before, folder)
            yield command, run(command, folder)
            # the next example may write the same sheet
            run("rm -f *.pdf *.svg *.png", folder)


def main():
    program, *pages = sys.argv[1:]
    tap = Tap()
    for page in pages:
        for commands in blocks(page):
            for command, result in run_block(program, commands):
                good = result.returncode == 0 and not result.stderr
                tap.holds(f"{os.path.basename(page)}: {command}",
                          [] if good else [result])
    return tap.end()


if __name__ == "__main__":
    sys.exit(main())
