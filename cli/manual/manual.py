#!/usr/bin/python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""Write the manual pages. Nothing is said here that is said elsewhere: a
command's page is its help, the rest is taken from the documents and headers.

    manual.py command VERSION DEVELOPERS.md PROGRAM NAME
    manual.py program VERSION DEVELOPERS.md PROGRAM README.md
    manual.py library VERSION DEVELOPERS.md README.md EXAMPLE.c HEADER...
    manual.py questions VERSION DEVELOPERS.md QUESTIONS SCRIPTS
"""
import os
import re
import subprocess
import sys
import textwrap


# -- roff ---------------------------------------------------------------

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


# -- What the program tells ---------------------------------------------

# further lines of an option are indented more
OPTION = re.compile(" {2,6}-")


class Help:
    """The help of a command, taken apart."""

    def __init__(self, program, *words):
        text = subprocess.run([program, *words, "--help"], check=True,
                              capture_output=True, encoding="utf-8").stdout
        self.examples, self.options, self.commands = [], [], []
        self.usage, self.notes = "", []
        for block in text.rstrip("\n").split("\n\n"):
            self.take(block.split("\n"))

    def take(self, lines):
        """A block belongs where its first line tells."""
        if lines[0] == "Examples:":
            self.examples = [line[2:] for line in lines[1:]]
        elif lines[0].startswith("Usage: "):
            self.usage = lines[0].removeprefix("Usage: ")
        elif lines[0] == "Commands:":
            self.commands = [re.split("  +", line.strip(), maxsplit=1)
                             for line in lines[1:]]
        elif OPTION.match(lines[0]):
            self.take_options(lines)
        elif not lines[0].startswith("  midweight "):
            self.notes.append(" ".join(lines))

    def take_options(self, lines):
        for line in lines:
            if OPTION.match(line):
                self.options.append(re.split("  +", line.strip(), maxsplit=1))
            else:
                self.options[-1][1] += " " + line.strip()

    def synopsis(self):
        program, *words = self.usage.split(" ")
        names = [word for word in words if word.islower()]
        rest = words[len(names):]
        return [f".B {roff(' '.join([program, *names]))}",
                *([roff(" ".join(rest))] if rest else [])]

    def without(self, options):
        """The same without options that are told elsewhere."""
        self.options = [one for one in self.options if one not in options]
        return self

    def described(self):
        """Options and notes."""
        page = []
        for names, text in self.options:
            page += [".TP", f".B {roff(names)}", roff(text)]
        for note in self.notes:
            page += [".PP", roff(note)]
        return page


def parts_page(program, here):
    """The commands under a command, what all of them take first."""
    parts = [(command, text, Help(program, *command.split(" ")))
             for command, text in here.commands]
    here.options = [one for one in parts[0][2].options
                    if all(one in part.options for _, _, part in parts)]
    page = [*heading("Options of every command"), *here.described()]
    page += heading("Commands")
    for command, text, part in parts:
        page += [f".SS {roff(command)}", roff(text.capitalize() + "."), ".PP",
                 *part.synopsis(), *part.without(here.options).described(),
                 *example(part.examples)]
    return page


def command_page(version, developers, program, name):
    summary = dict(Help(program).commands)[name]
    here = Help(program, name)
    page = title(f"midweight-{name}", 1, version, developers)
    page += [*heading("Name"), f"midweight\\-{name} \\- {roff(summary)}"]
    page += [*heading("Synopsis"), *here.synopsis()]
    if here.commands:
        page += parts_page(program, here)
    else:
        page += [*heading("Options"), *here.described()]
    page += [*heading("Examples"), *example(here.examples)]
    page += [*heading("See also"), ".BR midweight (1)",
             "tells how oils, amounts and temperatures are written."]
    return page


# -- What the documents tell --------------------------------------------

def section_of(path, name):
    """The lines of a Markdown section."""
    with open(path, encoding="utf-8") as file:
        text = file.read()
    found = re.search(rf"^## {re.escape(name)}\n(.*?)(?=^## |\Z)", text,
                      re.M | re.S)
    if not found:
        sys.exit(f"{path} has no section {name}")
    return found[1].strip("\n").split("\n")


def table_row(line):
    left, right = [cell.strip() for cell in line.strip("|").split("|")]
    return [".TP", f".B {roff(left)}", marked(right)]


def from_markdown(lines):
    """Paragraphs, points, tables of two columns, and indented lines."""
    page = []
    for block in "\n".join(lines).split("\n\n"):
        rows = block.split("\n")
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


def program_page(version, developers, program, readme):
    here = Help(program)
    page = title("midweight", 1, version, developers)
    page += [*heading("Name"),
             "midweight \\- mix damper oils, and know them at a temperature"]
    page += [*heading("Synopsis"), *here.synopsis(), *heading("Description")]
    for note in here.notes:
        page += [".PP", roff(note)]
    page += heading("Commands")
    for name, summary in here.commands:
        page += [".TP", f".BR midweight\\-{name} (1)", roff(summary)]
    page += [*heading("Examples"), *example(here.examples)]
    for name in ["How oils, amounts and temperatures are written",
                 "The method and its limits", "Cautions", "Promise and security"]:
        page += heading(name) + from_markdown(section_of(readme, name))
    page += [*heading("Files"), *Help(program, "stock").described()]
    page += [*heading("See also"),
             *[f".BR midweight\\-{name} (1)," for name, _ in here.commands],
             ".BR libmidweight (3)"]
    return page


# -- What the headers tell ----------------------------------------------

def about(path):
    """The comment at the top of a header."""
    with open(path, encoding="utf-8") as file:
        comment = re.search(r"/\*\*(.*?)\*/", file.read(), re.S)[1]
    return re.sub(r"^ \* ?", "", comment, flags=re.M).strip()


def functions(path):
    with open(path, encoding="utf-8") as file:
        return re.findall(r"^MW_API[^;(]*?(mw_\w+)\(", file.read(), re.M)


def umbrella(text):
    """Its paragraphs and points."""
    for block in text.split("\n\n"):
        # points are indented in the comment
        yield from from_markdown(re.sub(r"^  ", "", block, flags=re.M)
                                 .replace(":\n- ", ":\n\n- ").split("\n"))


def library_page(version, developers, readme, sample, *headers):
    names = {os.path.basename(path): path for path in headers}
    top = about(names.pop("midweight.h")).split("\n\n", 1)
    page = title("libmidweight", 3, version, developers)
    page += [*heading("Name"),
             "libmidweight \\- " + roff(top[0].split(" - ")[1].rstrip("."))]
    page += [*heading("Synopsis"), ".B #include <midweight/midweight.h>",
             ".PP", "pkg\\-config \\-\\-cflags \\-\\-libs midweight"]
    page += [*heading("Description"), *umbrella(top[1])]
    page += from_markdown(section_of(readme, "The library"))
    page += heading("Modules")
    for name, path in sorted(names.items()):
        first = about(path).split("\n\n")[0].split(" - ", 1)[1]
        page += [".TP", f".B midweight/{name}", roff(" ".join(first.split())),
                 ".br", roff(", ".join(functions(path)) + ".")]
    with open(sample, encoding="utf-8") as file:
        lines = file.read().rstrip("\n").split("\n")
    page += [*heading("Examples"), *example(lines)]
    page += [*heading("See also"), ".BR midweight (1)"]
    return page


# -- Questions ----------------------------------------------------------

def asked(path):
    """Questions and their commands: the lines of a file that begin with ? and
    with $."""
    page = []
    with open(path, encoding="utf-8") as file:
        for line in file:
            mark, _, text = line.rstrip("\n").partition(" ")
            if mark == "?":
                page += [".PP", roff(text)]
            elif mark == "$":
                page += example(["$ " + text])
    return page


def questions_page(version, developers, questions, scripts):
    page = title("midweight-questions", 7, version, developers)
    page += [*heading("Name"),
             "midweight\\-questions \\- questions of the trade, each answered "
             "by one command"]
    page += heading("At the pit table") + asked(questions)
    page += heading("In scripts")
    page += [roff("Every answer is JSON with --json; what it holds stands in "
                  "the JSON Schema that it names, such as midweight/mix/1 in "
                  "share/midweight/schema/mix.json.")]
    page += asked(scripts)
    page += [*heading("See also"), ".BR midweight (1)"]
    return page


def main():
    kind, *arguments = sys.argv[1:]
    page = {"command": command_page, "program": program_page,
            "library": library_page, "questions": questions_page}[kind](*arguments)
    print("\n".join(tidy(page)))


if __name__ == "__main__":
    main()
