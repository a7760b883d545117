#!/usr/bin/python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""Nothing on a sheet overlaps or is cut off, whatever the paper and the
bottles; TAP."""
import subprocess
import sys

from sheets import Sheets, pdf_words, svg_lines

MARGIN = 4.0  # mm from the edge without letters
LETTER = 0.55  # height of the letters, relative to the box of a word

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


def word_misses(pages, words):
    misses = []
    for i, word in enumerate(words):
        width, height = pages[word.page - 1]
        if not (word.left >= MARGIN and word.right <= width - MARGIN and
                word.top >= MARGIN - 1 and word.bottom <= height - MARGIN + 1):
            misses.append(f"{word.text!r} is cut off on page {word.page}")
        misses += [f"{word.text!r} overlaps {other.text!r}, page {word.page}"
                   for other in words[i + 1:] if overlaps(word, other)]
    return misses


def check(sheets, name, *words):
    pages, found = pdf_words(sheets.draw("sheet.pdf", *words))
    misses = word_misses(pages, found)
    if len(found) < 10:
        misses.append(f"only {len(found)} words")
    if len(pages) == 1:
        width, height = pages[0]
        for line in svg_lines(sheets.draw("sheet.svg", *words)):
            if not line.filled and not all(
                    -0.1 <= x <= width + 0.1 and -0.1 <= y <= height + 0.1
                    for x, y in line.points):
                misses.append(f"a line leaves the page: {line.ends}")
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
                  *on, "--at", "21C")
            if name != "40 bottles" or paper == "A4":
                check(sheets, f"chart, {name}, {paper}", "chart", *on,
                      "--at", "12C")
            check(sheets, f"labels, {name}, {paper}", "label", *on)
    for pair in (["350", "500"], ["10k", "1M"], ["10", "238.5"],
                 [LONG, "Oak"]):
        for paper in PAPERS:
            title = f"{pair[0][:9]} with {pair[1]}, {paper}"
            check(sheets, f"mix, {title}", "mix", *pair, "--paper", paper)
            check(sheets, f"doses, {title}", "mix", *pair, "--paper", paper,
                  "--make", "4x12.5ml", "--syringe", "0.05")
            check(sheets, f"blends, {title}", "chart", *pair, "--blend",
                  "--paper", paper)
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
