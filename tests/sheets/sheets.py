# Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later
"""What the tests of the printed sheets share: running the program, reading the
lines of an SVG and the words of a PDF in mm."""
import json
import os
import re
import subprocess
import sys
import tempfile
import xml.etree.ElementTree as ElementTree

sys.path.append(sys.path[0] + "/..")
from tap import Tap

MM = 25.4 / 72
DATE = ["--date", "2026-10-03"]
SVG = "{http://www.w3.org/2000/svg}"


class Sheets(Tap):
    """The program, in a temporary folder of its own; and TAP."""

    def __init__(self, program):
        super().__init__()
        self.program = os.path.abspath(program)
        self.folder = tempfile.TemporaryDirectory()

    def path(self, name):
        return os.path.join(self.folder.name, name)

    def run(self, *words, locale="C.UTF-8", **more):
        environment = dict(os.environ, LC_ALL=locale,
                           MIDWEIGHT_STOCK=self.path("stock.db"))
        environment.update(more.pop("environment", {}))
        return subprocess.run([self.program, *words], env=environment,
                              timeout=120, stdin=subprocess.DEVNULL,
                              capture_output=True, encoding="utf-8",
                              check=False, cwd=self.folder.name, **more)

    def ask(self, *words):
        """The JSON that the program answers."""
        result = self.run(*words, "--json")
        assert result.returncode == 0, (words, result.stderr)
        return json.loads(result.stdout)

    def draw(self, name, *words):
        """Draw a card; the path of its file."""
        result = self.run("card", *words, "-o", name, "--force", *DATE)
        assert (result.returncode, result.stderr) == (0, ""), (words, result)
        return self.path(name)

    def stock(self, rows):
        """Make a stock of the rows of a CSV."""
        for name in ("stock.db", "stock.csv"):
            if os.path.exists(self.path(name)):
                os.remove(self.path(name))
        with open(self.path("stock.csv"), "w", encoding="utf-8") as file:
            file.write("\n".join(rows) + "\n")
        result = self.run("stock", "import", "stock.csv")
        assert result.returncode == 0, result.stderr

    def end(self):
        self.folder.cleanup()
        sys.exit(super().end())


class Line:
    """A stroked path: its points in mm, and how it is drawn."""

    def __init__(self, points, style):
        self.points = points
        self.width = float(style.get("stroke-width", "0"))
        self.dashed = "stroke-dasharray" in style
        self.filled = style.get("fill", "none") != "none"

    @property
    def ends(self):
        return self.points[0], self.points[-1]


def svg_lines(path):
    """The paths of an SVG, glyphs aside."""
    root = ElementTree.parse(path).getroot()
    glyphs = {id(item) for definitions in root.iter(SVG + "defs")
              for item in definitions.iter(SVG + "path")}
    lines = []
    for item in root.iter(SVG + "path"):
        if id(item) in glyphs:
            continue
        style = dict(part.split(":", 1)
                     for part in item.get("style", "").split(";") if part)
        scale = 1.0
        if item.get("transform"):
            numbers = re.findall(r"-?[\d.]+", item.get("transform"))
            scale = float(numbers[0])
            assert [float(n) for n in numbers[1:3] + numbers[4:]] == [0] * 4
        points = [(float(x) * scale * MM, float(y) * scale * MM) for x, y in
                  re.findall(r"[ML] (-?[\d.]+) (-?[\d.]+)", item.get("d"))]
        if len(points) > 1:
            lines.append(Line(points, style))
    return lines


class Word:
    def __init__(self, page, match):
        self.page = page
        self.left, self.top, self.right, self.bottom = (
            float(value) * MM for value in match.groups()[:4])
        self.text = (match.group(5).replace("&lt;", "<")
                     .replace("&gt;", ">").replace("&amp;", "&"))

    @property
    def middle(self):
        return (self.top + self.bottom) / 2


def pdf_words(path):
    """(pages as (width, height), words), all in mm."""
    text = subprocess.run(["pdftotext", "-bbox", path, "-"], check=True,
                          capture_output=True, encoding="utf-8").stdout
    pages, words = [], []
    for line in text.splitlines():
        page = re.search(r'<page width="([\d.]+)" height="([\d.]+)"', line)
        if page:
            pages.append(tuple(float(side) * MM for side in page.groups()))
        word = re.search(r'xMin="(.+?)" yMin="(.+?)" xMax="(.+?)" '
                         r'yMax="(.+?)">(.*)</word>', line)
        if word:
            words.append(Word(len(pages), word))
    return pages, joined(words)


def joined(words):
    """Numbers whose thousands are spaced thinly, as one word each."""
    found = []
    for word in words:
        before = found[-1] if found else None
        gap = 0.25 * (word.bottom - word.top)
        if before and before.page == word.page and \
                abs(before.middle - word.middle) < 0.1 and \
                0 < word.left - before.right < gap and \
                re.match(r"\d{3}(?!\d)", word.text) and \
                re.search(r"\d$", before.text):
            before.text += word.text
            before.right = word.right
        else:
            found.append(word)
    return found


def pdf_rows(words):
    """The words of each line, from left to right."""
    rows = []
    for word in sorted(words, key=lambda w: (w.page, w.middle)):
        if rows and rows[-1][0].page == word.page and \
                abs(rows[-1][0].middle - word.middle) < 0.3:
            rows[-1].append(word)
        else:
            rows.append([word])
    return [sorted(row, key=lambda w: w.left) for row in rows]


def figures(value, significant=3):
    """A number as the program prints it."""
    rounded = float(f"{value:.{significant - 1}e}")
    magnitude = int(f"{rounded:e}".split("e")[1])
    return f"{rounded:.{max(significant - 1 - magnitude, 0)}f}"
