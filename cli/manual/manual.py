#!/usr/bin/python3
# Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later
"""Write the manual pages. Nothing is said here that is said elsewhere: a page
is made from the help of a command, the comments of the headers, the schemas of
the answers, the published values, and the documents in pages/.

    manual.py command VERSION DEVELOPERS.md PROGRAM NAME OWN.md COMMON.md
    manual.py program VERSION DEVELOPERS.md PROGRAM OWN.md COMMON.md
    manual.py library VERSION DEVELOPERS.md OWN.md EXAMPLE.c HEADER...
    manual.py functions VERSION DEVELOPERS.md FOLDER HEADER...
    manual.py questions VERSION DEVELOPERS.md QUESTIONS SCRIPTS
    manual.py prose VERSION DEVELOPERS.md DOCUMENT.md [APPENDIX.md...]
    manual.py json VERSION DEVELOPERS.md DOCUMENT.md MEANINGS.md SCHEMA...
    manual.py accuracy VERSION DEVELOPERS.md DOCUMENT.md RUNNER FILE.csv...
"""
import os
import re
import sys

# the sources may lie where nothing can be written
sys.dont_write_bytecode = True

from accuracy import values
from headers import library_page, pages
from program_help import command_page, program_page
from roff import (Document, example, from_markdown, heading, name_line, roff,
                  see_also, tidy, title)
from schemas import schema_parts


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
    page += name_line("midweight-questions",
                      "questions of the trade, each answered by one command")
    page += heading("At the pit table") + asked(questions)
    page += heading("In scripts")
    page += ["Every answer is JSON with \\-\\-json; what it holds stands in",
             ".BR midweight\\-json (5)."]
    page += asked(scripts)
    return page + see_also("midweight(1)", "midweight-json(5)")


def prose_page(version, developers, document, *appendices, middle=None):
    """A document whose title is "NAME(SECTION): what it is" and whose last
    section names other pages. An appendix, or what is made, stands before."""
    own = Document(document)
    name, section, summary = re.fullmatch(r"(.*)\((\d)\): (.*)",
                                          own.title).groups()
    page = title(name, section, version, developers)
    page += name_line(name, summary)
    page += heading("Description") + from_markdown(own.preface)
    page += own.pages("See also")
    for path in appendices:
        appendix = Document(path)
        page += heading(appendix.title) + from_markdown(appendix.preface)
    page += middle or []
    return page + see_also(*own.sections["See also"].split())


def json_page(version, developers, document, meanings, *schemas):
    return prose_page(version, developers, document,
                      middle=schema_parts(schemas, Document(meanings).table()))


def accuracy_page(version, developers, document, runner, *files):
    return prose_page(version, developers, document,
                      middle=values(runner, files))


def write_functions(version, developers, folder, *headers):
    for name, page in pages(version, developers, *headers).items():
        with open(os.path.join(folder, name + ".3"), "w",
                  encoding="utf-8") as file:
            file.write("\n".join(tidy(page)) + "\n")


KINDS = {"command": command_page, "program": program_page,
         "library": library_page, "questions": questions_page,
         "prose": prose_page, "json": json_page, "accuracy": accuracy_page}


def main():
    kind, *arguments = sys.argv[1:]
    if kind == "functions":
        write_functions(*arguments)
    else:
        print("\n".join(tidy(KINDS[kind](*arguments))))


if __name__ == "__main__":
    main()
