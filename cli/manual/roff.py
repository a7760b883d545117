# Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later
"""Text and Markdown as the roff of a manual page."""
import re
import sys
import textwrap


def roff(text):
    """Text that roff prints as it is."""
    for plain, escaped in [("\\", r"\e"), ("-", r"\-"), ("'", r"\(aq"),
                           ("`", r"\(ga"), ("^", r"\(ha"), ("~", r"\(ti")]:
        text = text.replace(plain, escaped)
    return "\\&" + text if text.startswith(".") else text


def marked(text):
    """The same for a line of Markdown: **bold**, `code` and [links](to)."""
    text = re.sub(r"\[([^]]*)\]\([^)]*\)", r"\1", text)
    parts = re.split(r"\*\*(.+?)\*\*|`(.+?)`", text)
    result = ""
    for plain, bold, code in zip(parts[0::3], parts[1::3] + [None],
                                 parts[2::3] + [None]):
        # inside a line nothing needs \& but what begins one
        result += roff(plain).removeprefix("\\&")
        if bold or code:
            result += f"\\fB{roff(bold or code)}\\fR"
    return "\\&" + result if result.startswith((".", "'")) else result


def example(lines):
    """Lines as they are, set apart."""
    return [".PP", ".in +2n", ".EX", *map(roff, lines), ".EE", ".in"]


def title(name, section, version, developers):
    """The first line. The date is that of the version in the list of changes,
    so that a version without changes has no manual."""
    with open(developers, encoding="utf-8") as file:
        found = re.search(rf"^### {re.escape(version)}, ([0-9-]{{10}})$",
                          file.read(), re.M)
    if not found:
        sys.exit(f"{developers} does not tell what changed in {version}")
    return [f'.TH {name.upper()} {section} {found[1]} "midweight {version}"']


def heading(text):
    return [f".SH {roff(text.upper())}"]


def name_line(name, summary):
    return [*heading("Name"), f"{roff(name)} \\- {roff(summary)}"]


def see_also(*pages):
    """Pages such as "midweight(1)"."""
    references = [".BR {} ({}){}".format(
        roff(page[:-3]), page[-2], "," if page != pages[-1] else "")
        for page in pages]
    return [*heading("See also"), *references]


def tidy(page):
    """Short lines, and no paragraph right after a heading."""
    verbatim, last = False, ""
    for line in page:
        verbatim = line == ".EX" or (verbatim and line != ".EE")
        if line == ".PP" and last.startswith((".SH", ".SS")):
            continue
        last = line
        if verbatim or line.startswith("."):
            yield line
            continue
        for part in textwrap.wrap(line, 78, break_long_words=False,
                                  break_on_hyphens=False):
            yield "\\&" + part if part.startswith((".", "'")) else part


# -- Markdown -----------------------------------------------------------

class Document:
    """A Markdown file: its title and its sections, by name."""

    def __init__(self, path):
        self.path = path
        with open(path, encoding="utf-8") as file:
            text = re.sub(r"^<!--.*-->\n", "", file.read())
        top, *sections = re.split(r"^## ", text, flags=re.M)
        first, _, self.preface = top.partition("\n")
        self.title = first.removeprefix("# ")
        self.sections = {}
        for section in sections:
            name, _, text = section.partition("\n")
            self.sections[name] = text

    def page(self, name):
        """A section with its heading, as roff."""
        if name not in self.sections:
            sys.exit(f"{self.path} has no section {name}")
        return [*heading(name), *from_markdown(self.sections[name])]

    def pages(self, *but):
        """All sections but these."""
        return [line for name in self.sections if name not in but
                for line in self.page(name)]


    def table(self):
        """The rows of the tables of two columns before the first section."""
        rows = [cells(line) for line in self.preface.split("\n")
                if line.startswith("|")]
        return dict(rows[2:])


def cells(line):
    return [cell.strip() for cell in line.strip("|").split("|")]


def table_row(line):
    left, right = cells(line)
    return [".TP", f".B {roff(left)}", marked(right)]


def from_block(block):
    """A paragraph, points, a table of two columns, or indented lines."""
    rows, page = block.split("\n"), []
    if rows[0].startswith("### "):
        page += [f".SS {roff(rows[0][4:])}"]
        rows = rows[1:]
    if not rows:
        return page
    if rows[0].startswith("|"):
        for row in rows[2:]:
            page += table_row(row)
    elif rows[0].startswith("- "):
        for point in re.split(r"^- ", block, flags=re.M)[1:]:
            page += [".IP \\(bu 2", marked(" ".join(point.split()))]
    elif rows[0].startswith("    "):
        page += example([row[4:] for row in rows])
    else:
        page += [".PP", marked(" ".join(rows))]
    return page


def from_markdown(text):
    """Blocks with blank lines between, and ``` examples as they are."""
    page = []
    for number, part in enumerate(re.split(r"^```\n", text, flags=re.M)):
        if number % 2:
            # as wide as the program prints, so without indent
            page += [".PP", ".EX",
                     *map(roff, part.rstrip("\n").split("\n")), ".EE"]
            continue
        for block in re.split(r"\n\n+", part.strip("\n")):
            page += from_block(block) if block else []
    return page
