#!/usr/bin/env python3
"""Checks that a program can say whatever a scenario file can: that every key of the JSON Schema is
a field of the drafts, or has the counterpart named here.

    check_keys.py SCHEMA HEADER...
"""
import json
import pathlib
import re
import sys

COUNTERPARTS = {  # key of the file: the field that a program uses in its place
    "between": "second",         # PriceCorrelation::first and second
    "blend": "total_kg_per_ha",  # its keys are fields of the draft itself
    "default": "granular_micronutrient_factor",
    "catalogue": "materials",    # a program adds the materials of a file itself
    "exactly": "max",            # min and max are the same number
    "hectares": "make_hectares",
    "lognormal_percent": "percent",
    "make": "make_tonnes",
    "normal_percent": "percent",
    "triangular": "mode",
}
OF_FILES = {"leastwise"}  # the version of the format: a program has that of the headers
# Keys in US units: a program converts to the metric fields itself.
US_KEY = re.compile(r"(.*_)?(per_short_ton|lb_per_acre|lb_per_ft3|lb|short_tons)|acres")
FIELD = re.compile(r"\b([a-z_][a-z_0-9]*)(?:\{\}| = [^;]*)?;")


def keys_of(schema):
    """Every key that some mapping of the file may hold."""
    if isinstance(schema, dict):
        properties = schema.get("properties", {})
        yield from properties
        for name, part in schema.items():
            if name == "properties":
                for value in properties.values():
                    yield from keys_of(value)
            elif name not in ("enum", "const", "default", "examples"):
                yield from keys_of(part)
    elif isinstance(schema, list):
        for part in schema:
            yield from keys_of(part)


def main(arguments):
    if len(arguments) < 2:
        print(__doc__, file=sys.stderr)
        return 2
    keys = set(keys_of(json.loads(pathlib.Path(arguments[0]).read_text(encoding="utf-8"))))
    fields = set()
    for header in arguments[1:]:
        fields.update(FIELD.findall(pathlib.Path(header).read_text(encoding="utf-8")))
    failures = [f"no field for the key {key}"
                for key in sorted(keys)
                if key not in OF_FILES and not US_KEY.fullmatch(key)
                and COUNTERPARTS.get(key, key) not in fields]
    failures += [f"the key {key} is no longer in the schema"
                 for key in sorted(COUNTERPARTS) if key not in keys]
    if len(keys) < 30:
        failures.append(f"only {len(keys)} keys found")
    for failure in failures:
        print(failure)
    return 1 if failures else 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
