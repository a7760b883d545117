#!/usr/bin/python3
# Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later
"""Check the comments of the public headers; print TAP.

Directly above every MW_API declaration is a comment that names what is Given
and Returned, every argument by its name, and the Failures where there is a
status; and some test names the function. The lines below a field are indented,
as the manual needs them: a formatter that fills comments would destroy that.

    documented.py FOLDER-OF-TESTS HEADER...
"""
import os
import re
import sys

sys.path.append(sys.path[0] + "/..")
from tap import Tap

# a comment, if there is one directly above; the declaration after MW_API
DECLARATION = re.compile(
    r"(?:/\*\*(?P<comment>(?:[^*]|\*(?!/))*)\*/\n)?"
    r"MW_API\s+(?P<type>[\w\s*]+?)(?P<name>mw_\w+)\((?P<arguments>[^;]*)\);")

# Fields begin at the margin, and their text is indented. A Reference is prose
# and may continue at the margin.
FIELD = re.compile(r" \* (?:Given|Returned|Failures|Notes):( |$)")
REFERENCE = " * Reference:"
LATER_FIELD = re.compile(r"\S.*\b(?:Given|Returned|Failures|Notes|Reference):")


def argument_names(arguments):
    """The names in "const double *v, struct mw_oil pair[2]"."""
    if arguments.strip() == "void":
        return []
    return [re.search(r"(\w+)\s*(\[.*\])?$", argument.strip()).group(1)
            for argument in arguments.split(",")]


def faults_of(declaration, tests):
    """Yield what is missing, in words."""
    comment = declaration["comment"] or ""
    names = argument_names(declaration["arguments"])
    if not comment:
        yield "has no comment directly above it"
    if names and "Given:" not in comment:
        yield "does not say what is Given"
    if "Returned:" not in comment:
        yield "does not say what is Returned"
    if "enum mw_status" in declaration["type"] and \
            "Failures:" not in comment:
        yield "does not list its Failures"
    for name in names:
        if not re.search(rf"\b{name}\b", comment):
            yield f"does not explain {name}"
    if not re.search(rf"\b{declaration['name']}\b", tests):
        yield "has no test"


def run_together(text):
    """Yield the lines of fields that a formatter has filled, by number."""
    in_field = False
    for number, line in enumerate(text.splitlines(), 1):
        if FIELD.match(line):
            in_field = True
            line = FIELD.sub("", line)
        elif line.startswith(REFERENCE) or not line.startswith(" * "):
            in_field = False
        elif in_field and not line.startswith(" *" + 8 * " "):
            yield f"has a line of a field at the margin: {number}"
        if in_field and LATER_FIELD.search(line):
            yield f"has a field inside line {number}"


def all_tests(folder):
    """The text of every test."""
    found = []
    for here, _, files in os.walk(folder):
        for name in files:
            if name.endswith((".c", ".h", ".py", ".csv")):
                with open(os.path.join(here, name), encoding="utf-8") as file:
                    found.append(file.read())
    return "\n".join(found)


def main():
    tests, tap = all_tests(sys.argv[1]), Tap()
    for path in sys.argv[2:]:
        with open(path, encoding="utf-8") as file:
            text = file.read()
        declared = list(DECLARATION.finditer(text))
        # a declaration that the pattern does not understand is a fault too
        missed = len(re.findall(r"^MW_API ", text, re.M)) - len(declared)
        tap.holds(os.path.basename(path),
                  ["has a declaration of another form"] * missed +
                  list(run_together(text)))
        for each in declared:
            tap.holds(each["name"], list(faults_of(each, tests)))
    return tap.end()


if __name__ == "__main__":
    sys.exit(main())
