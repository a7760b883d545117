#!/usr/bin/python3
# Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later
"""Check the examples of the documents against the program; print TAP.

Every line "$ midweight ..." inside a fenced block is run, and must print
exactly what follows it, up to the next "$ " or the end of the block. They run
in order in the top folder, and each document starts with an empty stock. A line
"    midweight ..." outside of these blocks must succeed; it has the stock that
the blocks have made, and a folder of its own to write to.
"""
import os
import re
import shlex
import subprocess
import sys
import tempfile

sys.path.append(sys.path[0] + "/..")
from tap import Tap


def examples(path):
    """Yield (line number, command, expected output)."""
    with open(path, encoding="utf-8") as file:
        lines = file.read().splitlines()
    fenced, command, expected, start = False, None, [], 0
    for number, line in enumerate(lines, 1):
        ends = line.startswith("```") or (fenced and line.startswith("$ "))
        if ends and command:
            yield start, command, "\n".join(expected).strip("\n")
            command, expected = None, []
        if line.startswith("```"):
            fenced = not fenced
        elif fenced and line.startswith("$ midweight"):
            command, start = line[2:], number
        elif command:
            expected.append(line)


def bare_commands(path):
    """Yield (line number, command) of the commands without output."""
    with open(path, encoding="utf-8") as file:
        for number, line in enumerate(file, 1):
            if line.startswith("    midweight "):
                yield number, line.strip()


def call(program, command, folder, place):
    """Run a command in the folder place, with the stock of another."""
    environment = dict(os.environ, XDG_DATA_HOME=folder, HOME="/nonexistent")
    environment.pop("MIDWEIGHT_STOCK", None)
    words = shlex.split(re.sub(r"\s+#.*", "", command))[1:]
    return subprocess.run([program] + words, capture_output=True,
                          encoding="utf-8", check=False, timeout=60,
                          cwd=place, env=environment)


def checks(program, path, folder):
    """Yield (line number, what was found, what was expected)."""
    root = os.path.join(os.path.dirname(os.path.abspath(__file__)), "..", "..")
    for number, command, expected in examples(path):
        result = call(program, command, folder, root)
        yield number, (result.stdout + result.stderr).strip("\n"), expected
    for number, command in bare_commands(path):
        result = call(program, command, folder, folder)
        yield number, f"exit {result.returncode} {result.stderr}", "exit 0 "


def main():
    program, *paths = sys.argv[1:]
    program = os.path.abspath(program)
    tap = Tap()
    for path in paths:
        with tempfile.TemporaryDirectory() as folder:
            for number, found, expected in checks(program, path, folder):
                tap.holds(f"{path}:{number}", [] if found == expected else
                          ["found:", found, "expected:", expected])
    return tap.end()


if __name__ == "__main__":
    sys.exit(main())
