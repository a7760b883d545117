# Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later
"""The pages of the program and of its commands, made from their help."""
import re
import subprocess

from roff import (Document, example, from_markdown, heading, name_line, roff,
                  see_also, title)

# further lines of an option are indented more
OPTION = re.compile(" {2,6}-")


class Help:
    """The help of a command, taken apart."""

    def __init__(self, program, *words):
        text = subprocess.run([program, *words, "--help"], check=True,
                              capture_output=True, encoding="utf-8").stdout
        self.examples, self.commands = [], []
        self.options = []  # group, names, text
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
        elif any(OPTION.match(line) for line in lines[:2]):
            self.take_options(lines)
        elif not lines[0].startswith("  midweight "):
            self.notes.append(" ".join(lines))

    def take_options(self, lines):
        """Options, in groups with a name where they are many."""
        group = ""
        for line in lines:
            if OPTION.match(line):
                names, text = re.split("  +", line.strip(), maxsplit=1)
                self.options.append((group, names, text))
            elif line.startswith(" "):
                _, names, text = self.options[-1]
                self.options[-1] = (group, names, f"{text} {line.strip()}")
            else:
                group = line.removesuffix(":")

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
        page, last = [], ""
        for group, names, text in self.options:
            if group != last:
                page += [f".SS {roff(group)}"]
            page += [".TP", f".B {roff(names)}", roff(text)]
            last = group
        if last:
            page += [".SS Arguments"]
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


def command_page(version, developers, program, name, own, common):
    """What a command has to say beside its help stands in its own document,
    what all of them say in a common one."""
    summary = dict(Help(program).commands)[name]
    here, own, common = Help(program, name), Document(own), Document(common)
    page = title(f"midweight-{name}", 1, version, developers)
    page += name_line(f"midweight-{name}", summary)
    page += [*heading("Synopsis"), *here.synopsis(), *own.page("Description")]
    if here.commands:
        page += parts_page(program, here)
    else:
        page += [*heading("Options"), *here.described()]
    page += own.pages("Description", "Bugs") + common.pages() + own.page("Bugs")
    page += [*heading("Examples"), *example(here.examples)]
    page += see_also("midweight(1)", "midweight-method(7)",
                     "midweight-questions(7)")
    page += [".PP", ".BR midweight (1)",
             "tells how oils, amounts and temperatures are written."]
    return page


def program_page(version, developers, program, own, common):
    here, own, common = Help(program), Document(own), Document(common)
    page = title("midweight", 1, version, developers)
    page += name_line("midweight",
                      "mix damper oils, and know them at a temperature")
    page += [*heading("Synopsis"), *here.synopsis(), *heading("Description"),
             *from_markdown(own.preface)]
    for note in here.notes:
        page += [".PP", roff(note)]
    page += heading("Commands")
    for name, summary in here.commands:
        page += [".TP", f".BR midweight\\-{name} (1)", roff(summary)]
    page += own.pages("Bugs") + common.pages() + own.page("Bugs")
    page += [*heading("Examples"), *example(here.examples)]
    page += see_also(*[f"midweight-{name}(1)" for name, _ in here.commands],
                     "midweight-json(5)", "midweight-stock(5)",
                     "midweight-accuracy(7)", "midweight-method(7)",
                     "midweight-questions(7)", "libmidweight(3)")
    return page
