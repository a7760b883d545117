#!/usr/bin/python3
# Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later
"""The files that cards are written to: formats and papers, failures, and that
no temporary file remains; TAP."""
import os
import re
import resource
import shutil
import signal
import struct
import subprocess
import sys
import time

from sheets import DATE, MM, Sheets, pdf_words

CARDS = {
    "mix": ["mix", "350", "500"],
    "temperature": ["temperature", "350", "500"],
    "chart": ["chart", "350", "500"],
    "blend": ["chart", "350", "500", "--blend"],
    "label": ["label", "Elm"],
}
PAPERS = {"A4": (210, 297), "A5": (148, 210), "A6": (105, 148),
          "Letter": (215.9, 279.4)}  # mm, upright


def size_of(path):
    """Width and height of a file in mm, from its header."""
    if path.endswith(".pdf"):
        (page, *_), _ = pdf_words(path)
        return page
    with open(path, "rb") as file:
        head = file.read(400)
    if path.endswith(".png"):
        assert head[:8] == b"\x89PNG\r\n\x1a\n"
        width, height = struct.unpack(">II", head[16:24])
        return width / 300 * 25.4, height / 300 * 25.4
    width, height = re.search(rb'<svg .*?width="([\d.]+)pt" '
                              rb'height="([\d.]+)pt"', head).groups()
    return float(width) * MM, float(height) * MM


def check_formats(sheets):
    for card, words in CARDS.items():
        misses = []
        # on every paper where it is cheap
        for paper, size in PAPERS.items():
            for ending in (("pdf", "svg", "png", "PDF") if paper == "A6" else
                           ("svg",)):
                path = sheets.draw(f"{card}.{ending}", *words, "--paper",
                                   paper.lower())
                found = size_of(path if ending != "PDF" else
                                shutil.copy(path, sheets.path("small.pdf")))
                if not all(abs(a - b) < 0.1
                           for a, b in zip(sorted(found), sorted(size))):
                    misses.append(f"{paper}, {ending}: {found} mm")
        sheets.holds(f"formats and papers of {card}", misses)


def check_pipe(sheets):
    """-o - writes the bytes of the file to stdout, and nothing else."""
    misses = []
    for ending in ("pdf", "svg", "png"):
        words = [sheets.program, "card", *CARDS["mix"], *DATE, "--format",
                 ending, "-o"]
        piped = subprocess.run([*words, "-"], capture_output=True, check=False)
        with open(sheets.draw(f"piped.{ending}", *CARDS["mix"]), "rb") as file:
            if (piped.stdout, piped.stderr) != (file.read(), b""):
                misses.append(ending)
    usual = subprocess.run([*words[:-3], "-o", "-"], capture_output=True,
                           check=False).stdout
    if not usual.startswith(b"%PDF"):
        misses.append(f"usually {usual[:5]!r}")
    sheets.holds("a pipe gets what a file gets, and PDF unasked", misses)
    with open("/dev/full", "wb") as full:
        result = subprocess.run([sheets.program, "card", *CARDS["mix"], "-o",
                                 "-"], stdout=full, stderr=subprocess.PIPE,
                                check=False)
    good = result.returncode == 3 and b"could not be written" in result.stderr
    sheets.holds("a full device behind the pipe", [] if good else [result])
    parent, child = os.openpty()
    result = subprocess.run([sheets.program, "card", *CARDS["mix"], "-o", "-"],
                            stdout=child, stderr=subprocess.PIPE, check=False)
    os.close(child)
    os.close(parent)
    good = result.returncode == 2 and b"on a terminal" in result.stderr
    sheets.holds("no sheet into a terminal", [] if good else [result])
    check_fault(sheets, "--json into the same pipe", 2, "the same pipe",
                *CARDS["mix"], "-o", "-", "--json")
    check_fault(sheets, "an unknown format", 2, "write pdf, svg or png",
                *CARDS["mix"], "-o", "-", "--format", "ps")


def check_json(sheets):
    answer = sheets.ask("card", "mix", "350", "500", "-o", "j.pdf", "--paper",
                        "A5")
    good = {"schema": "midweight/card/1", "file": "j.pdf",
            "format": "pdf", "paper": "A5", "pages": 1, "width_mm": 148,
            "height_mm": 210, "boxes_in": None, "warnings": [],
            "defaults": {}}
    sheets.holds("what was written, as JSON",
                 [] if answer == good else [answer])


def check_phone(sheets):
    """A phone's screen, dot for dot, for a mix and for temperatures."""
    for card in ("mix", "temperature"):
        with open(sheets.draw("phone.png", *CARDS[card], "--paper", "phone"),
                  "rb") as file:
            size = struct.unpack(">II", file.read(24)[16:])
        sheets.holds(f"{card} for a phone",
                     [] if size == (1080, 2340) else [size])
    check_fault(sheets, "no labels for a phone", 2, "a phone shows a mix",
                *CARDS["label"], "-o", "phone.png", "--paper", "phone")


def check_explain(sheets):
    """Footers say what is needed and cite nothing; --explain adds how it was
    calculated, on a page of its own."""
    for card, words in CARDS.items():
        pages, found = pdf_words(sheets.draw("explain.pdf", *words,
                                             "--explain"))
        first, second = (" ".join(w.text for w in found if w.page == page)
                         for page in (1, 2))
        misses = [f"{part!r} is not in the footer" for part in (
            "Squares are labels, lines" if card == "chart" else
            "about 95 times of 100 (k = 2)", "Estimate", "2026-10-03",
            "midweight 0.") if part not in first]
        misses += [f"{part!r} is in the footer" for part in (
            "Phys.", "Ophthalmol.", "JCGM", "D341") if part in first]
        if len(pages) != 2 or "Method" not in second or "JCGM" not in second:
            misses.append(f"{len(pages)} pages, {second}")
        sheets.holds(f"footer and method of {card}", misses)
    check_fault(sheets, "--explain needs a second page", 2, "write a .pdf",
                *CARDS["mix"], "-o", "explain.png", "--explain")


def check_locale(sheets):
    misses = []
    for card, words in CARDS.items():
        for ending in ("svg", "pdf", "png"):
            contents = []
            for locale in ("C.UTF-8", "de_DE.UTF-8"):
                result = sheets.run("card", *words, "-o", f"l.{ending}",
                                    "--force", *DATE, locale=locale)
                assert result.returncode == 0, result.stderr
                with open(sheets.path(f"l.{ending}"), "rb") as file:
                    contents.append(file.read())
            if contents[0] != contents[1]:
                misses.append(f"{card}.{ending}")
    sheets.holds("the same bytes in a decimal-comma locale", misses)


def check_fault(sheets, name, code, text, *words, **more):
    """A failure: its exit code, its message, and an unchanged folder."""
    before = sorted(os.listdir(sheets.folder.name))
    result = sheets.run("card", *words, **more)
    after = sorted(os.listdir(sheets.folder.name))
    misses = []
    if result.returncode != code:
        misses.append(f"exit {result.returncode}, not {code}")
    if text not in result.stderr or result.stdout or \
            not re.fullmatch(r"midweight: [^\n]+\n", result.stderr):
        misses.append(f"{result.stdout!r}, {result.stderr!r}")
    if before != after:
        misses.append(f"changed files: {set(after) ^ set(before)}")
    sheets.holds(name, misses)


def small_files():
    """Limit files to 4 KiB, which fails as a full disk does."""
    signal.signal(signal.SIGXFSZ, signal.SIG_IGN)
    resource.setrlimit(resource.RLIMIT_FSIZE, (4096, 4096))


def check_faults(sheets):
    mix = CARDS["mix"]
    check_fault(sheets, "no such folder", 3, "No such file or directory; "
                "choose another place with -o", *mix, "-o", "none/mix.pdf")
    os.mkdir(sheets.path("folder.pdf"))
    check_fault(sheets, "a folder", 3, "Is a directory", *mix, "-o",
                "folder.pdf")
    check_fault(sheets, "a file as a folder", 3, "Not a directory", *mix,
                "-o", "stock.csv/mix.pdf")
    check_fault(sheets, "a folder that takes no files", 3,
                "cannot be written", *mix, "-o", "/proc/mix.pdf")
    for ending in ("txt", "ps", "pdf.bak", "pdfx"):
        check_fault(sheets, f"the ending .{ending}", 2,
                    "end it in .pdf, .svg or .png", *mix, "-o",
                    f"mix.{ending}")
    for path in ("mix", "./mix", "folder.pdf/mix", "/dev/full"):
        check_fault(sheets, f"no ending: {path}", 2,
                    "end it in .pdf, .svg or .png", *mix, "-o", path)
    for ending in ("pdf", "svg", "png"):
        link = f"full.{ending}"
        os.symlink("/dev/full", sheets.path(link))
        check_fault(sheets, f"a full device, {ending}", 3,
                    "No space left on device", *mix, "-o", link, "--force")
        check_fault(sheets, f"a full disk, {ending}", 3, "File too large",
                    *mix, "-o", f"new.{ending}", preexec_fn=small_files)


def check_existing(sheets):
    def content():
        with open(sheets.path("there.svg"), encoding="utf-8") as file:
            return file.read()

    with open(sheets.path("there.svg"), "w", encoding="utf-8") as file:
        file.write("mine")
    words = [*CARDS["mix"], "-o", "there.svg"]
    check_fault(sheets, "an existing file", 3,
                "add --force to replace it", *words)
    check_fault(sheets, "a full disk leaves the old file", 3,
                "File too large", *words, "--force", preexec_fn=small_files)
    check_fault(sheets, "so does an impossible target", 1, "between these oils",
                *words, "--force", "--to", "600")
    misses = [] if content() == "mine" else ["it was changed"]
    os.symlink("there.svg", sheets.path("link.svg"))
    result = sheets.run("card", *CARDS["mix"], "-o", "link.svg", "--force")
    if result.returncode or not content().startswith("<?xml"):
        misses.append("not replaced")
    if not os.path.islink(sheets.path("link.svg")):
        misses.append("a link was replaced, not its file")
    umask = os.umask(0)
    os.umask(umask)
    mode = os.stat(sheets.path("there.svg")).st_mode & 0o777
    if mode != 0o666 & ~umask:
        misses.append(f"mode {mode:o}")
    sheets.holds("--force replaces a whole file", misses)


def check_no_font(sheets):
    """Without a font there is no sheet: cairo's own has no degree sign."""
    with open(sheets.path("fonts.conf"), "w", encoding="utf-8") as file:
        file.write('<?xml version="1.0"?>'
                   '<!DOCTYPE fontconfig SYSTEM "urn:fontconfig:fonts.dtd">'
                   "<fontconfig></fontconfig>")
    for ending in ("pdf", "svg", "png"):
        check_fault(sheets, f"no font, {ending}", 3, "no font to write with",
                    *CARDS["mix"], "-o", f"new.{ending}", environment={
                        "FONTCONFIG_FILE": sheets.path("fonts.conf")})


def check_boxes(sheets):
    """Names in letters that the default font of Debian does not have."""
    sheets.stock(["name,viscosity", "Elm,350", "Larch,500", "\u74f6,450"])
    words = ["card", "label", "\u74f6", "Elm", *DATE, "-o"]
    text = sheets.run(*words, "box.pdf")
    answer = sheets.ask(*words, "box.svg")
    good = ('letters for all of "\u74f6"; boxes' in text.stdout and
            answer["boxes_in"] == "\u74f6")
    sheets.holds("boxes instead of letters are reported",
                 [] if good else [text, answer])


def check_scripts(sheets):
    """Names in letters that the default font has are drawn without boxes, and
    from right to left where they are read so."""
    names = ("\u0396\u03ad\u03b1", "\u041b\u0435\u0441",
             "\u0632\u064a\u062a", "\u05d0\u05d1 \u05d2\u05d3")
    sheets.stock(["name,viscosity", *(f"{name},{350 + i}" for i, name in
                                      enumerate(names))])
    path = sheets.draw("scripts.pdf", "label", names[3])
    place = {letter: w.left for w in pdf_words(path)[1] for letter in w.text}
    misses = [] if place["\u05d0"] > place["\u05d3"] else [
        "Hebrew runs from left to right"]
    answer = sheets.ask("card", "label", *DATE, "-o", "scripts.svg")
    if answer["boxes_in"] is not None:
        misses.append(answer)
    sheets.holds("names in other scripts", misses)


def check_mode(sheets):
    """A file that is replaced keeps its mode."""
    path = sheets.path("mode.svg")
    for mode in (0o600, 0o640, 0o666):
        with open(path, "w", encoding="utf-8"):
            os.chmod(path, mode)
        subprocess.run([sheets.program, "card", "mix", "350", "500", "-o",
                        path, "--force"], check=True,
                       stdout=subprocess.DEVNULL)
        found = os.stat(path).st_mode & 0o777
        sheets.holds(f"mode {mode:o} is kept",
                     [] if found == mode else [oct(found)])


def check_start_up(sheets):
    """No other command loads the libraries for drawing."""
    libraries = subprocess.run(["ldd", sheets.program], capture_output=True,
                               encoding="utf-8", check=True).stdout
    good = "libc.so" in libraries and "cairo" not in libraries
    sheets.holds("the main program does not load cairo",
                 [] if good else [libraries])


def main():
    sheets = Sheets(sys.argv[1])
    sheets.stock(["name,viscosity", "Elm,350", "Larch,500"])
    check_formats(sheets)
    check_pipe(sheets)
    check_json(sheets)
    check_phone(sheets)
    check_explain(sheets)
    check_locale(sheets)
    check_faults(sheets)
    check_existing(sheets)
    check_fault(sheets, "many oils in one PNG", 2, "write a .pdf",
                "temperature", *(str(v) for v in range(300, 340)), "-o",
                "many.png")
    check_no_font(sheets)
    check_boxes(sheets)
    check_scripts(sheets)
    check_mode(sheets)
    check_start_up(sheets)
    sheets.end()


if __name__ == "__main__":
    main()
