# Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later
"""What the JSON answers hold, made from their schemas."""
import json
import sys

from roff import heading, marked, roff


def load(path):
    with open(path, encoding="utf-8") as file:
        return json.load(file)


def kinds(node):
    """The types that a value may have, in words."""
    if "const" in node:
        return f'"{node["const"]}"'
    if "enum" in node:
        return " or ".join(f'"{value}"' for value in node["enum"])
    if "$ref" in node:
        return node["$ref"].rsplit("/", 1)[1] + " (below)"
    if "oneOf" in node:
        return " or ".join(map(kinds, node["oneOf"]))
    types = node.get("type", "anything")
    types = types if isinstance(types, list) else [types]
    return " or ".join(sorted(types, key=lambda one: one == "null"))


def inside(node):
    """The objects and arrays in a node that may be one of several."""
    for one in node.get("oneOf", [node]):
        if "items" in one:
            for suffix, item in inside(one["items"]):
                yield "[]" + suffix, item
        elif "properties" in one:
            yield "", one


def meaning(path, meanings):
    """That of the longest end of a path that has one."""
    names = path.replace("[]", "").split(".")
    return next((meanings[end] for end in
                 (".".join(names[i:]) for i in range(len(names)))
                 if end in meanings), None)


def keys(node, meanings, above=""):
    """A paragraph for each key of an object, and of the objects in it."""
    page = []
    for suffix, item in inside(node):
        for key, value in item["properties"].items():
            path = f"{above}{suffix}{'.' if above or suffix else ''}{key}"
            said = value.get("description") or meaning(path, meanings)
            if not said:
                sys.exit(f"json_keys.md does not say what {path} is")
            page += [".TP", f".B {roff(path)}",
                     f"{roff(kinds(value))}: {marked(said)}"]
            page += keys(value, meanings, path)
    return page


def every_key(node):
    """The names of all keys, wherever they stand."""
    if isinstance(node, list):
        return {key for one in node for key in every_key(one)}
    if not isinstance(node, dict):
        return set()
    return set(node.get("properties", {})) | every_key(list(node.values()))


def schema_parts(paths, meanings):
    """All answers, then the objects that they share. A meaning of a key that
    no answer has is a fault."""
    schemas, shared, page = [load(path) for path in paths], {}, []
    known = every_key(schemas)
    left = [name for name in meanings if not set(name.split(".")) <= known]
    if left:
        sys.exit(f"json_keys.md has what no answer has: {', '.join(left)}")
    page += heading("Answers")
    for schema in schemas:
        for name, node in schema.get("$defs", {}).items():
            if shared.setdefault(name, node) != node:
                sys.exit(f"{schema['title']} has another {name}")
        page += [f".SS {schema['properties']['schema']['const']}",
                 roff(schema["title"].removeprefix("midweight ") + ".")]
        page += keys(schema, meanings)
    page += heading("What answers share")
    for name, node in shared.items():
        page += [f".SS {roff(name)}", roff(kinds(node) + ".")]
        page += keys(node, meanings)
    return page
