#!/usr/bin/env python3
"""Checks that the scenario reference and the JSON Schema name the same keys.

    check_reference.py PAGE scenario.schema.json
"""
import json
import pathlib
import re
import sys

CODE = re.compile(r"`([^`]+)`")
WORD = re.compile(r"[A-Za-z_0-9]+")
HEADING = "# Scenario reference"


def keys_of(schema):
    """All property names anywhere in the schema, alternatives and definitions included."""
    if isinstance(schema, list):
        return {key for part in schema for key in keys_of(part)}
    if not isinstance(schema, dict):
        return set()
    found = set(schema["properties"]) if isinstance(schema.get("properties"), dict) else set()
    return found | {key for part in schema.values() for key in keys_of(part)}


def reference_of(text):
    if HEADING not in text:
        raise ValueError(f"there is no heading '{HEADING}'")
    return text.split(HEADING, 1)[1].split("\n## ", 1)[0]


def words_in_code(text):
    return {word for code in CODE.findall(text) for word in WORD.findall(code)}


def findings(readme, schema):
    reference = reference_of(readme)
    keys = keys_of(schema)
    first_cells = [line.split("|")[1] for line in reference.splitlines() if line.startswith("| `")]
    for key in sorted(keys - words_in_code(reference)):
        yield f"the reference does not mention the key '{key}'"
    for key in sorted(words_in_code("\n".join(first_cells)) - keys):
        yield f"the schema has no key '{key}', which the reference explains"


def main(arguments):
    if len(arguments) != 2:
        print(__doc__, file=sys.stderr)
        return 2
    readme, schema = (pathlib.Path(name).read_text(encoding="utf-8") for name in arguments)
    found = list(findings(readme, json.loads(schema)))
    for finding in found:
        print(finding)
    return 1 if found else 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
