#!/usr/bin/python3
# Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later
"""Change the library in many small ways, and check that a test fails.

    mutants.py [--count N] [--seed S] [--list] [--only TEXT]

A mutant is one change of one place of lib/*/*.c, except in comments, strings,
preprocessor lines and the size of an array where it is declared (as that of a
parameter it means nothing to a compiler, and one more changes no result):

    relation    < to <=, <= to <, > to >=, >= to >, == to !=, != to ==
    logic       && to ||, || to &&, a ! left out
    arithmetic  binary + to -, - to +, * to /, / to *
    constant    a number with a point or an exponent 1 % larger, a whole one
                greater by 1
    status      return MW_OK becomes a failure, return of a failure MW_OK

All places are listed in order; N of them are drawn without replacement by the
generator of Python's random module with the seed S. Each is built and runs the
suites unit and reference; it is killed where a test fails or hangs. One that
does not build is skipped, and the next is drawn. Prints TAP; not ok where less
than 90 % are killed.
"""
import argparse
import concurrent.futures
import glob
import itertools
import os
import queue
import random
import re
import shutil
import subprocess
import sys
import tempfile

ROOT = os.path.join(os.path.dirname(os.path.abspath(__file__)), "..")
NEEDED = 90  # per cent
ACCURACY = "cli/manual/midweight-accuracy.7"

OTHER = {"<": "<=", "<=": "<", ">": ">=", ">=": ">", "==": "!=", "!=": "==",
         "&&": "||", "||": "&&", "+": "-", "-": "+", "*": "/", "/": "*"}

TOKENS = re.compile(r"""
    (?P<skip>/\*.*?\*/|"(?:\\.|[^"\\])*"|'(?:\\.|[^'\\])*'|^[ ]*\#(?:\\\n|.)*?$)
  | (?P<size>\b(?:char|double|bool|size_t|int|(?:struct|enum)\ \w+)\ \w+\[\d+\])
  | (?<=[\w)\]]\ )(?P<operator><=|>=|==|!=|&&|\|\||[-+*/<>])(?=\s)
  | (?P<negation>!)(?=[\w(])
  | (?P<status>return\ (?:MW_OK|MW_ERR_\w+)(?=;))
  | (?<![\w.])(?P<number>(?:\d+\.\d*|\.\d+|\d+)(?:[eE][-+]?\d+)?)(?![\w.])
    """, re.X | re.S | re.M)


def replacement(match):
    """What a token becomes; None where it stays."""
    kind, text = match.lastgroup, match.group()
    if kind == "operator":
        return OTHER[text]
    if kind == "negation":
        return ""
    if kind == "status":
        good = text.endswith("MW_OK")
        return "return MW_ERR_NAME" if good else "return MW_OK"
    if kind == "number":
        whole = text.isdigit()
        return str(int(text) + 1) if whole else repr(float(text) * 1.01)
    return None


def places():
    """(file, start, end, new text, line) of every possible mutant."""
    found = []
    for path in sorted(glob.glob(os.path.join(ROOT, "lib", "*", "*.c"))):
        with open(path, encoding="utf-8") as file:
            text = file.read()
        for match in TOKENS.finditer(text):
            new = replacement(match)
            if new is not None:
                line = text.count("\n", 0, match.start()) + 1
                found.append((os.path.relpath(path, os.path.join(ROOT, "lib")),
                              match.start(),
                              match.end(), new, line))
    return found


class Copy:
    """A copy of the sources with a build folder of its own."""

    def __init__(self, folder):
        self.source = os.path.join(tempfile.mkdtemp(dir=folder), "source")
        self.build = os.path.join(self.source, "build")
        shutil.copytree(ROOT, self.source,
                        ignore=shutil.ignore_patterns("build*", ".git"))
        self.must("meson", "setup", self.build, self.source,
                  "-Dbuildtype=debug", "-Doptimization=1")
        self.must("ninja", "-C", self.build)
        self.must(*self.test("unit"))
        self.must(*self.test("reference"))

    def test(self, suite):
        return ("meson", "test", "-C", self.build, "--no-rebuild", "--quiet",
                "--maxfail", "1", "--num-processes", "1", "--suite", suite)

    def good(self, *command):
        return subprocess.run(command, stdout=subprocess.DEVNULL,
                              stderr=subprocess.DEVNULL,
                              check=False).returncode == 0

    def not_built(self):
        """What could not be made."""
        result = subprocess.run(["ninja", "-C", self.build, "-k", "0"],
                                stdout=subprocess.PIPE, encoding="utf-8",
                                stderr=subprocess.STDOUT, check=False)
        failed = re.findall(r"^FAILED: (\S+)", result.stdout, re.M)
        return failed or ["ninja"] * (result.returncode != 0)

    def must(self, *command):
        if not self.good(*command):
            sys.exit("failed without any mutant: " + " ".join(command))

    def try_mutant(self, place):
        """True: killed; False: survived; None: it does not build."""
        name, start, end, new, _ = place
        path = os.path.join(self.source, "lib", name)
        with open(path, encoding="utf-8") as file:
            text = file.read()
        try:
            with open(path, "w", encoding="utf-8") as file:
                file.write(text[:start] + new + text[end:])
            failed = self.not_built()
            if failed:
                # a page is not made where a published value is missed
                return True if failed == [ACCURACY] else None
            return not (self.good(*self.test("unit"))
                        and self.good(*self.test("reference")))
        finally:
            with open(path, "w", encoding="utf-8") as file:
                file.write(text)


def describe(place):
    name, start, end, new, line = place
    with open(os.path.join(ROOT, "lib", name), encoding="utf-8") as file:
        old = file.read()[start:end]
    return f"lib/{name}:{line}: {old} becomes {new or 'nothing'}"


def run(drawn, count):
    """Try mutants until so many have been built; (killed, survivors)."""
    killed, survivors = 0, []
    workers = os.cpu_count() or 1
    with tempfile.TemporaryDirectory() as folder, \
            concurrent.futures.ThreadPoolExecutor(workers) as pool:
        copies = queue.Queue()
        for copy in pool.map(Copy, itertools.repeat(folder, workers)):
            copies.put(copy)

        def try_one(place):
            copy = copies.get()
            try:
                return copy.try_mutant(place)
            finally:
                copies.put(copy)

        drawn = iter(drawn)
        while killed + len(survivors) < count:
            wanted = count - killed - len(survivors)
            batch = list(itertools.islice(drawn, wanted))
            if not batch:
                break
            for place, dead in zip(batch, pool.map(try_one, batch)):
                if dead is False:
                    survivors.append(place)
                    print("# survived: " + describe(place), flush=True)
                killed += dead is True
    return killed, survivors


def main():
    parser = argparse.ArgumentParser()
    parser.add_argument("--count", type=int, default=100)
    parser.add_argument("--seed", type=int, default=7152)
    parser.add_argument("--list", action="store_true")
    parser.add_argument("--only", default="")
    options = parser.parse_args()
    drawn = [place for place in places() if options.only in describe(place)]
    total = len(drawn)
    random.Random(options.seed).shuffle(drawn)
    if options.list:
        print("\n".join(describe(place) for place in drawn[:options.count]))
        return 0
    killed, survivors = run(drawn, options.count)
    tried = killed + len(survivors)
    good = tried > 0 and 100 * killed >= NEEDED * tried
    print(f"{'ok' if good else 'not ok'} 1 - {killed} of {tried} mutants "
          f"killed (of {total} possible ones, seed {options.seed})\n1..1")
    return 0 if good else 1


if __name__ == "__main__":
    sys.exit(main())
