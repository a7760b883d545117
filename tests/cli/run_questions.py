#!/usr/bin/python3
# Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later
"""Ask the questions of questions.txt, run scripts.txt, and print TAP.

Each command must succeed, begin with the line that is expected, and print 15
lines of 72 columns at most; the number in that line is held to laws.py.
"""
import math
import os
import re
import shlex
import subprocess
import sys
import tempfile

sys.path.append(sys.path[0] + "/..")
import laws
from tap import Tap

LINES, COLUMNS = 15, 72


def questions(path):
    """Yield (question, command, pattern, expression, tolerance in per cent)."""
    found = {}
    with open(path, encoding="utf-8") as file:
        for line in file:
            mark, _, text = line.rstrip("\n").partition(" ")
            if mark in ("?", "$", "=", "~"):
                found[mark] = text
            if mark == "~":
                expression, _, tolerance = text.rpartition(" ")
                yield (found["?"], found["$"], found["="], expression,
                       float(tolerance))


def misses_of(result, pattern, expression, tolerance):
    lines = result.stdout.splitlines()
    first = re.match(pattern, lines[0] if lines else "")
    misses = []
    if result.returncode != 0 or not first:
        return [f"exit {result.returncode}, {result.stdout}{result.stderr}"]
    # expressions are those of the file beside this one
    wanted = eval(expression, {"math": math, "round": round, **vars(laws)})
    number = float(first[1])
    if not abs(number - wanted) <= tolerance / 100 * abs(wanted):
        misses.append(f"{number} where {expression} is {wanted}")
    if len(lines) > LINES:
        misses.append(f"{len(lines)} lines")
    if max(map(len, lines)) > COLUMNS:
        misses.append("wider than a phone: " + max(lines, key=len))
    return misses


def scripts(path):
    """Yield (what is wanted, command, [lines that it prints])."""
    wanted, command, lines = None, None, []
    with open(path, encoding="utf-8") as file:
        for line in [*file, "? end\n"]:
            mark, _, text = line.rstrip("\n").partition(" ")
            if mark == "?" and command:
                yield wanted, command, lines
            if mark == "?":
                wanted, command, lines = text, None, []
            elif mark == "$":
                command = text
            elif mark == "=":
                lines.append(text)


def main():
    program, path, commands, bottles = map(os.path.abspath, sys.argv[1:])
    tap = Tap()
    with tempfile.TemporaryDirectory() as folder:
        environment = dict(os.environ, HOME="/nonexistent",
                           MIDWEIGHT_STOCK=os.path.join(folder, "stock.db"))

        def run(*words):
            return subprocess.run([program, *words], env=environment,
                                  cwd=folder, capture_output=True,
                                  encoding="utf-8", check=False, timeout=60)

        run("stock", "import", bottles)
        for question, command, *wanted in questions(path):
            result = run(*shlex.split(command)[1:])
            tap.holds(question.replace("#", ""), misses_of(result, *wanted))
        environment["PATH"] = (os.path.dirname(program) + os.pathsep +
                               environment["PATH"])
        for what, command, lines in scripts(commands):
            result = subprocess.run(["sh", "-c", command], env=environment,
                                    capture_output=True, encoding="utf-8",
                                    check=False, timeout=60)
            tap.holds(what, [] if result.stdout.splitlines() == lines else
                      [result.stdout + result.stderr])
    return tap.end()


if __name__ == "__main__":
    sys.exit(main())
