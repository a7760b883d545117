#!/usr/bin/python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""Hold the examples of the documents against the program; print TAP.

Every line "$ midweight ..." inside a fenced block is run, and must print just
what follows it, up to the next "$ " or the end of the block. They run in order
in the folder above the documents', and each document starts with an empty
stock.
"""
import os
import re
import shlex
import subprocess
import sys
import tempfile


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


def run(program, command, folder):
    root = os.path.join(os.path.dirname(os.path.abspath(__file__)), "..", "..")
    environment = dict(os.environ, XDG_DATA_HOME=folder, HOME="/nonexistent")
    environment.pop("MIDWEIGHT_STOCK", None)
    words = shlex.split(re.sub(r"\s+#.*", "", command))[1:]
    result = subprocess.run([program] + words, capture_output=True,
                            encoding="utf-8", check=False, timeout=60,
                            cwd=root, env=environment)
    return (result.stdout + result.stderr).strip("\n")


def main():
    program, *paths = sys.argv[1:]
    program = os.path.abspath(program)
    count = bad = 0
    for path in paths:
        with tempfile.TemporaryDirectory() as folder:
            for number, command, expected in examples(path):
                count += 1
                found = run(program, command, folder)
                good = found == expected
                bad += not good
                print(f"{'ok' if good else 'not ok'} {count} - {path}:{number}")
                if not good:
                    print("\n".join("# " + line for line in
                                    ["found:", *found.split("\n"), "expected:",
                                     *expected.split("\n")]))
    print(f"1..{count}")
    return 1 if bad or not count else 0


if __name__ == "__main__":
    sys.exit(main())
