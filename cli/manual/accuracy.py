# Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later
"""Each published value beside what the library gives, made from the reference
files and the program that the tests evaluate them with."""
import math
import os
import re
import subprocess
import textwrap
from itertools import groupby

from roff import example, roff

HEAD = ("inputs", "value", "ours", "off by", "allowed", " known")
NOISE = 1e-12  # of a value: what doubles cannot tell
WORDS = ("seen", "second-hand", "memory", "computed")
INPUTS, WIDTHS = 12, (12, 13, 10, 9)


class Row:
    """A line of the program's table."""

    def __init__(self, line, sure):
        (self.path, self.function, self.inputs, self.expected, self.tolerance,
         self.unit, self.note, got, self.status) = line.split("\t")
        self.got = float(got)
        words = re.findall(r"[\w-]+", self.note)
        self.sure = next((word for word in words if word in WORDS), sure)
        self.refused = self.expected.startswith("MW_ERR")

    def difference(self):
        """In per cent where the tolerance is relative, else in the unit."""
        miss = self.got - float(self.expected)
        if abs(miss) <= NOISE * abs(self.got):
            return "0"
        if self.tolerance.startswith("rel"):
            return f"{100 * miss / float(self.expected):+.2g} %"
        return f"{miss:+.2g}"

    def allowed(self):
        kind, size = self.tolerance.split()
        return f"{100 * float(size):.3g} %" if kind == "rel" else f"{float(size):.3g}"

    def ours(self):
        """To a digit more than the difference can be seen in."""
        kind, size = self.tolerance.split()
        size = float(size) * (abs(float(self.expected)) if kind == "rel" else 1)
        if not size or not self.got:
            return f"{self.got:.6g}"
        digits = math.floor(math.log10(abs(self.got))) - \
            math.floor(math.log10(size)) + 2
        return f"{self.got:.{min(max(digits, 3), 10)}g}"

    def lines(self):
        if self.refused:
            said = f"  refused: {self.expected}, {self.sure}"
        else:
            said = columns(self.expected, self.ours(), self.difference(),
                           self.allowed()) + f" {self.sure}"
        inputs = textwrap.wrap(self.inputs, 64)
        if len(self.inputs) < INPUTS:
            found = [f"{self.inputs:{INPUTS}}{said}"]
        else:
            found = [*inputs, " " * INPUTS + said]
        # what else the note says
        said = self.note.removeprefix(self.sure).lstrip("; ")
        return found + textwrap.wrap(said, 64, initial_indent="    ",
                                     subsequent_indent="    ")


def columns(*cells):
    return "".join(f"{cell:>{width}}" for cell, width in zip(cells, WIDTHS))


def comments(path):
    """The source of a file: what is said before and after "# sure:"."""
    with open(path, encoding="utf-8") as file:
        text = " ".join(line[1:].strip() for line in file if line[0] == "#")
    return re.split(r" (?=sure: |Inputs: |Inputs of )", text)


def file_part(path, rows):
    page = [f".SS {os.path.basename(path)}"]
    for paragraph in comments(path):
        page += [".PP", roff(paragraph)]
    for before, row in zip(rows, rows[1:]):
        row.unit = row.unit or before.unit
    page += example([f"{HEAD[0]:{INPUTS}}{columns(*HEAD[1:5])}{HEAD[5]}"])
    for (function, unit), some in groupby(
            rows, key=lambda row: (row.function, row.unit)):
        head = f"{function}{', in ' + unit if unit not in ('', '1') else ''}"
        page += example([head] + [line for row in some for line in row.lines()])
    return page


def values(runner, paths):
    """One part for each file. A value that is missed, or cannot be read, ends
    this: the runner fails, and says which."""
    table = subprocess.run([runner, "--table", *paths], check=True,
                           stdout=subprocess.PIPE, encoding="utf-8").stdout
    page = [".SH VALUES"]
    for path, lines in groupby(table.splitlines(),
                               key=lambda line: line.split("\t")[0]):
        sure = next(one for one in comments(path) if one.startswith("sure: "))
        sure = re.match(r"sure: ([\w-]+)", sure)[1]
        page += file_part(path, [Row(line, sure) for line in lines])
    return page
