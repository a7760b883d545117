# Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later
"""The JSON Schema files of the program, and what an answer misses of its own."""
import json
import os

import jsonschema

FOLDER = os.path.join(os.path.dirname(os.path.abspath(__file__)), "..", "cli",
                      "schema")
_validators = {}


def _validator(name):
    if name not in _validators:
        with open(os.path.join(FOLDER, name + ".json"),
                  encoding="utf-8") as file:
            schema = json.load(file)
        jsonschema.Draft202012Validator.check_schema(schema)
        _validators[name] = jsonschema.Draft202012Validator(schema)
    return _validators[name]


def schema_misses(text):
    """What JSON that the program printed misses of the schema that it names."""
    answer = json.loads(text)
    try:
        name = answer["schema"].split("/")[1]
        validator = _validator(name)
    except (KeyError, IndexError, OSError) as failure:
        return [f"no schema: {failure!r}"]
    return [f"schema {name}: {error.json_path}: {error.message[:200]}"
            for error in validator.iter_errors(answer)]
