#!/usr/bin/python3
# Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later
"""Nothing on a sheet overlaps, is cut off or struck through, its type is large
enough and the page filled, whatever the paper and the bottles; TAP."""
import re
import subprocess
import sys

from sheets import Sheets, pdf_words, svg_lines

MARGIN = 4.0  # mm from the edge of paper without letters
PHONE = (1080 / 400 * 25.4, 2340 / 400 * 25.4)  # mm
LETTER = 0.55  # height of the letters, relative to the box of a word

# points, of numbers and of all else
NARROW_TYPE, WIDE_TYPE, SMALL_TYPE = 9, 11, 7
EM = 1.164  # the box of a word, relative to the size of DejaVu Sans
HEAD = 0.22  # of a page: what is above is no part of a table
EMPTY = 0.25  # of a page: more without a word is a hole
NUMBER = re.compile(r"[\d.]+(–[\d.]+)?$")

LONG = "N" * 200
# the largest and the smallest; "all" on the command line: every one
PAPERS = (("A4", "Letter", "A5", "A6") if "all" in sys.argv[2:]
          else ("A4", "A6"))
WIDE = "Öl " * 66 + "ß"

# stocks of all sizes: one bottle, the usual few, 40 from 10 to 1 000 000
STOCKS = {
    "one bottle": ["name,viscosity", "Elm,350"],
    "nine bottles": ["name,viscosity"] + [
        f"{name},{v}" for name, v in
        zip("Alder Birch Cedar Elm Hazel Larch Oak Walnut Yew".split(),
            (100, 200, 300, 350, 400, 500, 1000, 10000, 30000))],
    "40 bottles": ["name,viscosity"] + [
        f"{name},{10 * 10 ** (5 * i / 39):.4f}" for i, name in
        enumerate([LONG, WIDE] + [f"Bottle {i}" for i in range(38)])],
    "alike": ["name,viscosity"] + [
        f"Bottle {i},{350 + i / 16:.4f}" for i in range(16)],
    "mixed": [
        "kind,name,viscosity,temperature,date,parent,volume_ml",
        f",{LONG},350,25,,,", ",Larch,500,25,,,", ",Oak,1000,25,,,",
        ",Yew,1M,25,,,", f",{WIDE},1234567,25,,,",
        f"mix,{WIDE},,25,2026-10-03,,", f"part,{WIDE},,,,{LONG},1234.5",
        f"part,{WIDE},,,,Larch,10.4", f"part,{WIDE},,,,Oak,0.125",
        f"part,{WIDE},,,,Yew,10"],
}


def overlaps(a, b):
    if a.page != b.page:
        return False

    def letters(word):
        half = LETTER * (word.bottom - word.top) / 2
        return word.middle - half, word.middle + half
    (top, bottom), (top2, bottom2) = letters(a), letters(b)
    return (a.left < b.right - 0.05 and b.left < a.right - 0.05 and
            top < bottom2 and top2 < bottom)


def is_phone(page):
    return all(abs(a - b) < 0.1 for a, b in zip(page, PHONE))


def points(word):
    return (word.bottom - word.top) / 25.4 * 72 / EM


def foot_of(words):
    """The upper edge of the small print, the last lines of one size."""
    last = max(words, key=lambda w: w.bottom)
    top = last.top
    for word in sorted(words, key=lambda w: -w.bottom):
        if abs(points(word) - points(last)) < 0.05 and top - word.bottom < 1:
            top = min(top, word.top)
    return top


def type_misses(pages, words, labels):
    """All type is large enough, and the numbers of a table more so; labels:
    what is right of a chart shrinks until all names fit."""
    misses = [f"{word.text!r} has {points(word):.1f} pt" for word in words
              if not points(word) >= SMALL_TYPE - 0.05]
    least = NARROW_TYPE if min(pages[0]) < 140 else WIDE_TYPE
    first = [w for w in words if w.page == 1]
    foot = foot_of(first)
    numbers = [w for w in first if w.bottom < foot and NUMBER.match(w.text)]
    if labels:
        middle = max(w.right for w in numbers) * 0.6
        numbers = [w for w in numbers if w.right < middle]
    # what an oil is rated as, "350 at 25 °C ±5.8 %" or "350 ±5.8 %", may be
    # smaller; and titles are larger
    rated = [w for w in first if w.text in ("at", "°C", "°F") or
             w.text.startswith("±")]
    numbers = [w for w in numbers if not any(
        abs(w.middle - other.middle) < 0.1 and -1 < other.left - w.right < 1.5
        for other in rated)]
    misses += [f"the number {w.text} has {points(w):.1f} pt" for w in numbers
               if not points(w) >= least - 0.05]
    row = sorted(numbers, key=lambda w: (round(w.middle, 1), w.left))
    misses += [f"{a.text} touches {b.text}" for a, b in zip(row, row[1:])
               if abs(a.middle - b.middle) < 0.1 and
               0 <= b.left - a.right < 0.6 * (a.bottom - a.top) / EM]
    columns = {}
    for word in numbers:
        if word.top < HEAD * pages[0][1]:
            continue
        columns.setdefault(round(word.right), []).append(points(word))
    misses += [f"a column has type from {min(sizes):.1f} to {max(sizes):.1f}"
               for sizes in columns.values()
               if len(sizes) > 3 and max(sizes) - min(sizes) > 0.1]
    return misses


def fill_misses(pages, words):
    """No hole is left on the first page."""
    height = pages[0][1]
    edges = sorted((w.top, w.bottom) for w in words if w.page == 1)
    misses, bottom = [], 0
    for top, below in edges + [(height, height)]:
        if top - bottom > EMPTY * height:
            misses.append(f"nothing from {bottom:.0f} to {top:.0f} mm of "
                          f"{height:.0f}")
        bottom = max(bottom, below)
    return misses


def struck_misses(lines, words):
    """Straight lines that go through a word."""
    segments = [(min(x1, x2), max(x1, x2), min(y1, y2), max(y1, y2))
                for line in lines if len(line.points) == 2 and not line.filled
                for (x1, y1), (x2, y2) in [line.points]]
    misses = []
    for word in words:
        half = LETTER * (word.bottom - word.top) / 2 - 0.1
        top, bottom = word.middle - half, word.middle + half
        left, right = word.left + 0.2, word.right - 0.2
        misses += [f"{word.text!r} is struck through"
                   for x1, x2, y1, y2 in segments
                   if x1 < right and x2 > left and y1 < bottom and y2 > top]
    return misses


def word_misses(pages, words):
    misses = []
    words = sorted(words, key=lambda w: (w.page, w.top))
    for i, word in enumerate(words):
        width, height = pages[word.page - 1]
        edge = MARGIN / 2 if is_phone(pages[0]) else MARGIN
        if not (word.left >= edge and word.right <= width - edge and
                word.top >= edge - 1 and word.bottom <= height - edge + 1):
            misses.append(f"{word.text!r} is cut off on page {word.page}")
        for other in words[i + 1:]:
            if other.page > word.page or other.top >= word.bottom:
                break
            if overlaps(word, other):
                misses.append(f"{word.text!r} overlaps {other.text!r}, page "
                              f"{word.page}")
    return misses


def check(sheets, name, *words):
    pages, found = pdf_words(sheets.draw("sheet.pdf", *words))
    misses = word_misses(pages, found)
    if len(found) < 10:
        misses.append(f"only {len(found)} words")
    if words[0] != "label":
        misses += type_misses(pages, found, words[0] == "chart")
        misses += fill_misses(pages, found)
    # lines come nearest to words where there is least room
    if len(pages) == 1 and (min(pages[0]) < 140 or "all" in sys.argv[2:]):
        width, height = pages[0]
        lines = svg_lines(sheets.draw("sheet.svg", *words))
        for line in lines:
            if not line.filled and not all(
                    -0.1 <= x <= width + 0.1 and -0.1 <= y <= height + 0.1
                    for x, y in line.points):
                misses.append(f"a line leaves the page: {line.ends}")
        misses += struck_misses(lines, found)
    sheets.holds(f"{name}: {len(pages)} pages, {len(found)} words", misses)


def check_grey(sheets):
    """The lines of a chart differ from their neighbours by dashes, not only by
    colour, so that they can be distinguished in black and white."""
    sheets.stock(STOCKS["nine bottles"])
    path = sheets.draw("chart.svg", "chart")
    with open(path, encoding="utf-8") as file:
        text = file.read()
    styles = set()
    for part in text.split("<path ")[1:]:
        if "stroke-width:0.45" in part:
            dashes = part.partition("stroke-dasharray:")[2].partition(";")[0]
            styles.add(dashes)
    sheets.holds(f"{len(styles)} kinds of dashes for 9 lines",
                 [] if len(styles) >= 6 else [styles])


def check_letters(sheets):
    """The fonts are embedded, and the text can be selected."""
    path = sheets.draw("sheet.pdf", "temperature")
    fonts = subprocess.run(["pdffonts", path], check=True, encoding="utf-8",
                           capture_output=True).stdout.splitlines()[2:]
    misses = [line for line in fonts if line.split()[-5:-2] != ["yes"] * 3]
    sheets.holds("fonts are embedded, with their letters",
                 misses if fonts else ["no font"])


def main():
    sheets = Sheets(sys.argv[1])
    for name, rows in STOCKS.items():
        sheets.stock(rows)
        for paper in PAPERS:
            on = ["--paper", paper]
            check(sheets, f"temperature, {name}, {paper}", "temperature",
                  *on, "--tuned-at", "21C", "--today", "12")
            if name != "40 bottles" or paper == "A4":
                check(sheets, f"chart, {name}, {paper}", "chart", *on,
                      "--at", "12C")
            check(sheets, f"labels, {name}, {paper}", "label", *on)
        check(sheets, f"temperature, {name}, phone", "temperature",
              "--paper", "phone", "--today", "12C")
    for pair in (["350", "500"], ["10k", "1M"], ["10", "238.5"],
                 [LONG, "Oak"]):
        for paper in PAPERS:
            title = f"{pair[0][:9]} with {pair[1]}, {paper}"
            check(sheets, f"mix, {title}", "mix", *pair, "--paper", paper)
            check(sheets, f"doses, {title}", "mix", *pair, "--paper", paper,
                  "--make", "4x12.5ml", "--syringe", "0.05")
            check(sheets, f"blends, {title}", "chart", *pair, "--blend",
                  "--paper", paper)
        check(sheets, f"doses, {pair[0][:9]} with {pair[1]}, phone", "mix",
              *pair, "--paper", "phone", "--make", "4x12.5ml", "--drop",
              "0.02")
    check(sheets, "tight", "mix", "350", "352")
    check(sheets, "label of a mix", "label", WIDE)
    check(sheets, "cold", "temperature", "350", "--from", "-20", "--to", "0")
    check(sheets, "hot", "chart", "350", "--from", "60", "--to", "100")
    check(sheets, "a warm today", "chart", "350", "500", "--at", "49C")
    check(sheets, "one temperature only", "chart", "100@40C", "46@40C/VI150",
          "--family", "mineral", "--paper", "A6")
    check_grey(sheets)
    check_letters(sheets)
    sheets.end()


if __name__ == "__main__":
    main()
