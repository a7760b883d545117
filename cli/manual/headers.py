# Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later
"""The pages of the library, made from the comments of its headers: one for all
of it, one for each header, and one for each function."""
import os
import re
import sys

from roff import (Document, example, from_markdown, heading, name_line, roff,
                  see_also, title)

FUNCTION = re.compile(r"/\*\*(?P<comment>(?:[^*]|\*(?!/))*)\*/\n"
                      r"MW_API (?P<declaration>[^;]*?(?P<name>mw_\w+)\("
                      r"(?P<arguments>[^;]*)\));\n")
FIELD = re.compile(r"^(Given|Returned|Failures|Notes|Reference):", re.M)
# what belongs to the compiler alone
FRAME = re.compile(r'#ifdef __cplusplus\n(?:extern "C" \{|\})\n#endif\n|'
                   r"#include .*\n|#(?:ifndef|define) MIDWEIGHT_\w+\n|"
                   r"#endif\n\Z", re.M)
COPYRIGHT = re.compile(r"\A/\* Copyright .*\n")

LIBRARY = [*heading("Library"), "libmidweight, pkg\\-config midweight",
           *heading("Synopsis"), ".B #include <midweight/midweight.h>"]


def without_stars(comment):
    return re.sub(r"^ \* ?", "", comment, flags=re.M).strip()


class Header:
    """A header, taken apart."""

    def __init__(self, path):
        with open(path, encoding="utf-8") as file:
            text = COPYRIGHT.sub("", file.read())
        self.name = os.path.basename(path)
        # the umbrella declares the version alone
        stem = self.name.removesuffix(".h")
        self.page = "mw_" + (stem if stem != "midweight" else "version")
        self.functions = list(FUNCTION.finditer(text))
        self.function_names = [one["name"] for one in self.functions]
        top = re.search(r"/\*\*(.*?)\*/\n", text, re.S)
        about, _, self.description = without_stars(top[1]).partition("\n\n")
        self.summary = " ".join(about.split(" - ", 1)[1].split()).rstrip(".")
        rest = FUNCTION.sub("", text.replace(top[0], ""))
        self.types = re.sub(r"\n{3,}", "\n\n", FRAME.sub("", rest)).strip("\n")


def from_comment(text):
    """Paragraphs, formulas (indented by 4), and points (by 2)."""
    page = []
    for block in text.split("\n\n"):
        if block.startswith("    "):
            page += from_markdown(block)
            continue
        first, *points = re.split(r"^  (?:- )?(?=\S)", block, flags=re.M)
        page += [".PP", roff(" ".join(first.split()))] if first else []
        for point in points:
            page += [".IP \\(bu 2", roff(" ".join(point.split()))]
    return page


def split_entry(line, names):
    """A name and what is said of it; "" where a line begins with none."""
    name, gap, said = re.match(r"((?:\w+, )*\w+\b)?( *)(.*)", line).groups()
    # names stand in columns of 8 letters, which long ones fill
    named = name and said and gap and (
        len(gap) > 1 or re.fullmatch(r"(MW_\w+(, )?)+", name) or
        (name in names and len(name) >= 7))
    return (name, said) if named else ("", line)


def entries(text, names):
    """The entries of a field. A line belongs to the one before where it is
    indented by more than the first, or begins no entry."""
    found = []
    for line in text.split("\n"):
        deep = len(line) - len(line.lstrip()) > 13
        name, said = split_entry(line.strip(), names)
        if found and (deep or not (
                name or said.startswith(("MW_", "those of")))):
            found[-1] = (found[-1][0], f"{found[-1][1]} {line.strip()}")
        elif said:
            found.append((name, said))
    return found


def field_of(name, text, arguments):
    page = [".PP", f"{name}:", ".RS"]
    if name in ("Notes", "Reference") and not text.strip().startswith("MW_"):
        return page + [roff(" ".join(text.split())), ".RE"]
    for entry, said in entries(text, arguments):
        page += [".TP", f".I {roff(entry)}", roff(said)] if entry else \
            [".PP", roff(said)]
    return page + [".RE"]


def source(lines):
    """C as it is, which may have 80 columns."""
    return [".PP", ".in 2n", ".EX", *map(roff, lines), ".EE", ".in"]


def declared(function):
    text = re.sub(r"^ {7}(?= )", "", function["declaration"], flags=re.M)
    return [".PP", ".EX", *map(roff, (text + ";").split("\n")), ".EE"]


def told(function):
    """What the comment of a function says."""
    about, *fields = FIELD.split(without_stars(function["comment"]))
    arguments = re.findall(r"\w+", function["arguments"])
    page = from_comment(about.strip())
    for name, text in zip(fields[0::2], fields[1::2]):
        # as in the header, where the name of the field takes room too
        page += field_of(name, " " * 10 + text, arguments)
    return page


def summary_of(function):
    """The first sentence of its comment, as the summary of a page."""
    text = " ".join(without_stars(function["comment"]).split("\n\n")[0].split())
    first = re.split(r"[.:;] |[.:;]$", text)[0]
    ordinary = first[1].islower() or first.startswith("A ")
    return first[0].lower() + first[1:] if ordinary else first


def function_page(version, developers, header, function):
    page = title(function["name"], 3, version, developers)
    page += name_line(function["name"], summary_of(function))
    page += [*LIBRARY, *declared(function)]
    page += heading("Description") + told(function)
    return page + see_also(f"{header.page}(3)", "libmidweight(3)",
                           "midweight-method(7)")


def header_page(version, developers, header):
    page = title(header.page, 3, version, developers)
    page += name_line(header.page, header.summary) + LIBRARY
    if header.types:
        page += source(header.types.split("\n"))
    if header.description:
        page += [*heading("Description"), *from_comment(header.description)]
    if header.functions:
        page += heading("Functions")
        for function in header.functions:
            page += [f".SS {function['name']}()", *declared(function),
                     *told(function)]
    return page + see_also("libmidweight(3)", "midweight-method(7)")


def pages(version, developers, *paths):
    """Each page of section 3 by its name."""
    found, headers = {}, [Header(path) for path in paths]
    for header in headers:
        found[header.page] = header_page(version, developers, header)
    for header in headers:
        for function in header.functions:
            name = function["name"]
            if name != header.page and name in found:
                sys.exit(f"{name} of {header.name} is the page of a header")
            found.setdefault(
                name, function_page(version, developers, header, function))
    return found


def library_page(version, developers, own, sample, *paths):
    headers = sorted((Header(path) for path in paths),
                     key=lambda header: header.name)
    umbrella = next(one for one in headers if one.name == "midweight.h")
    page = title("libmidweight", 3, version, developers)
    page += name_line("libmidweight", umbrella.summary)
    page += [*heading("Synopsis"), ".B #include <midweight/midweight.h>",
             ".PP", "pkg\\-config \\-\\-cflags \\-\\-libs midweight"]
    page += [*heading("Description"), *from_comment(umbrella.description),
             *from_markdown(Document(own).preface)]
    page += heading("Modules")
    for header in headers:
        page += [".TP", f".BR {roff(header.page)} (3)", roff(header.summary)]
        if header.functions:
            page += [".br", roff(", ".join(header.function_names) + ".")]
    page += Document(own).pages()
    with open(sample, encoding="utf-8") as file:
        lines = COPYRIGHT.sub("", file.read()).strip("\n").split("\n")
    page += [*heading("Examples"), *example(lines)]
    return page + see_also("midweight(1)", "midweight-method(7)",
                           "midweight-accuracy(7)")
