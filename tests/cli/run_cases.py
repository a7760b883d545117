#!/usr/bin/python3
# Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later
"""Run the command-line cases of a file and print TAP.

    run_cases.py PROGRAM FILE [both]

A case is a paragraph. Its first line (after comments) is the command; the
others are what must hold:

    $ midweight mix 350 500 --target 420 --json
    exit 0                         the default
    out TEXT                       stdout contains it
    err TEXT                       stderr contains it
    warn TEXT                      stderr has this one warning
    json .parts[1].share = 0.50063 +- 1e-5
    json .rule = "astm"

These are checked for every case: a failure writes one line to stderr that
starts with "midweight: ", and nothing to stdout; a success writes nothing to
stderr; text stays within 72 columns, JSON keeps to its schema; and, for "both",
in a decimal-comma locale every byte is the same. Otherwise the locale is that of
the environment.
"""
import json
import os
import re
import shlex
import subprocess
import sys

sys.path.append(sys.path[0] + "/..")
from schema import schema_misses
from tap import Tap

COLUMNS = 72


def paragraphs(path):
    """Yield (line number, [lines]) of each case."""
    lines, start = [], 0
    with open(path, encoding="utf-8") as file:
        for number, line in enumerate(list(file) + ["\n"], 1):
            line = line.rstrip("\n")
            if line.startswith("#"):
                continue
            if line and not lines:
                start = number
            if line:
                lines.append(line)
            elif lines:
                yield start, lines
                lines = []


def run(program, words, locale):
    environment = dict(os.environ, LC_ALL=locale, HOME="/nonexistent")
    for name in ("MIDWEIGHT_STOCK", "XDG_DATA_HOME"):
        environment.pop(name, None)  # not the stock of the user
    return subprocess.run([program] + words, env=environment, timeout=60,
                          stdin=subprocess.DEVNULL, capture_output=True,
                          encoding="utf-8", check=False)


def pick(value, path):
    """The part of a JSON value that a path such as .parts[1].share names."""
    for name, index in re.findall(r"\.(\w+)|\[(\d+)\]", path):
        value = value[name] if name else value[int(index)]
    return value


def json_misses(document, claim):
    path, _, wanted = claim.partition(" = ")
    try:
        found = pick(document, path)
    except (KeyError, IndexError, TypeError):
        return [f"{path} is missing"]
    value, _, tolerance = wanted.partition(" +- ")
    if tolerance:
        good = abs(found - float(value)) <= float(tolerance)
    else:
        good = found == json.loads(value)
    return [] if good else [f"{path} is {found!r}, expected {wanted}"]


def general_misses(result, help_asked, for_scripts, warned):
    misses = []
    if result.returncode == 0:
        warning = r"(midweight: warning: [^\n]+\n)?" if warned else ""
        if not re.fullmatch(warning, result.stderr):
            misses.append("stderr is not empty")
        wide = [line for line in result.stdout.splitlines()
                if len(line) > COLUMNS]
        if wide and not for_scripts and not help_asked:
            misses.append(f"wider than {COLUMNS} columns: {wide[0]!r}")
    else:
        if result.stdout:
            misses.append("stdout is not empty")
        if not re.fullmatch(r"midweight: [^\n]+\n", result.stderr):
            misses.append("stderr is not one line of the program's own")
    return misses


def case_misses(program, lines, both):
    words = shlex.split(lines[0].removeprefix("$ midweight"))
    locale = os.environ.get("LC_ALL", "C.UTF-8")
    result = run(program, words, "C.UTF-8" if both else locale)
    misses = general_misses(result, "--help" in words,
                            bool({"--json", "--csv", "--format"} & {*words}),
                            any(line.startswith("warn ") for line in lines))
    other = run(program, words, "de_DE.UTF-8") if both else result
    if (other.stdout, other.stderr, other.returncode) != (
            result.stdout, result.stderr, result.returncode):
        misses.append("another answer in the locale de_DE")
    code, flat = 0, " ".join(result.stdout.split())
    for line in lines[1:]:
        kind, _, claim = line.partition(" ")
        if kind == "exit":
            code = int(claim)
        elif kind == "out" and " ".join(claim.split()) not in flat:
            misses.append(f"stdout lacks {claim!r}")
        elif kind in ("err", "warn") and claim not in result.stderr:
            misses.append(f"stderr lacks {claim!r}")
        elif kind == "json":
            misses += json_misses(json.loads(result.stdout or "null"), claim)
        elif kind not in ("out", "err", "warn"):
            misses.append(f"unknown condition {line!r}")
    if "--json" in words and result.returncode == 0:
        misses += schema_misses(result.stdout)
    if result.returncode != code:
        misses.append(f"exit code {result.returncode}, expected {code}")
    if misses:
        misses.append("stdout: " + result.stdout)
        misses.append("stderr: " + result.stderr)
    return misses


def main():
    program, path, *both = sys.argv[1:]
    tap = Tap()
    for start, lines in paragraphs(path):
        tap.holds(lines[0].replace("#", "\\#"),
                  [f"{path}:{start}: {miss}"
                   for miss in case_misses(program, lines, both)])
    return tap.end()


if __name__ == "__main__":
    sys.exit(main())
