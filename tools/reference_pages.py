#!/usr/bin/env python3
"""Writes the tables of the reference pages: of scenario, trial and reports from the JSON Schemas
under lib/data, of the command line from what `--help` prints. A page says where its tables go:

    <!-- generated: scenario -->
    ...
    <!-- end of generated -->

Everything outside these lines is written by hand and stays as it is.

    reference_pages.py [--check] TOOL
"""
import json
import pathlib
import re
import subprocess
import sys

ROOT = pathlib.Path(__file__).resolve().parent.parent
PAGES = ROOT / "lib/guide/reference"
BLOCK = re.compile(r"(<!-- generated: (?P<name>[\w-]+) -->\n)(?P<body>.*?)(<!-- end of generated -->)",
                   re.DOTALL)
OPTION = re.compile(r"^  (?P<name>-\S.*?)(?: {2,}(?P<text>\S.*))?$")


def schema_of(name):
    return json.loads((ROOT / f"lib/data/{name}.schema.json").read_text(encoding="utf-8"))


class Words:
    """Says in words what a part of a schema takes."""

    def __init__(self, schema, linked=()):
        self.schema = schema
        self.linked = set(linked)  # definitions that have a section of their own

    def target(self, part):
        path = part["$ref"].removeprefix("#/").split("/")
        found = self.schema
        for step in path:
            found = found[step]
        return path[-1], found

    def takes(self, part):
        if "$ref" in part:
            name, found = self.target(part)
            return f"[{name}](#{name})" if name in self.linked else self.takes(found)
        if "const" in part:
            return f"`{json.dumps(part['const']).strip(chr(34))}`"
        if "enum" in part:
            return listed([spelled(value) for value in part["enum"]], "or")
        for alternatives in ("anyOf", "oneOf"):
            if alternatives in part and "properties" not in part:
                return listed(unique(self.takes(one) for one in part[alternatives]), "or")
        kind = part.get("type")
        if isinstance(kind, list):
            return listed([self.takes({**part, "type": one}) for one in kind], "or")
        return self.of_type(kind, part)

    def of_type(self, kind, part):
        if kind == "array":
            return f"list of {self.takes(part['items'])}" if part.get("items") else "list"
        if kind == "object":
            if part.get("properties"):
                inner = [f"`{key}`" for key in part["properties"]]
                return "keys " + ", ".join(inner) if len(inner) <= 5 else "keys, see below"
            inner = part.get("additionalProperties")
            return by_name(self, part) if isinstance(inner, dict) else "keys"
        if kind in ("number", "integer"):
            return ("whole number" if kind == "integer" else "number") + bounds(part)
        return {"string": "text", "boolean": "`true` or `false`", "null": "`null`"}.get(kind, "any")


def unique(words):
    return list(dict.fromkeys(words))


def listed(words, joint):
    return words[0] if len(words) == 1 else f"{', '.join(words[:-1])} {joint} {words[-1]}"


def spelled(value):
    if value is None:
        return "`null`"
    return f"`{value}`" if value != "" else "empty"


def plain(number):
    if number == int(number) and abs(number) >= 1e6:
        digits = str(int(number)).rstrip("0")
        zeros = len(str(int(number))) - len(digits)
        return f"{digits}e{zeros}" if zeros >= 6 else str(int(number))
    return f"{number:g}"


def bounds(part):
    low, above = part.get("minimum"), part.get("exclusiveMinimum")
    high = part.get("maximum")
    if above is not None:
        return f", above {plain(above)}" + ("" if high is None else f" to {plain(high)}")
    if low is None or (low == 0 and part["type"] == "integer" and high is None):
        return "" if high is None else f", at most {plain(high)}"
    return f", from {plain(low)}" + ("" if high is None else f" to {plain(high)}")


def cell(text):
    return text.replace("|", "\\|").replace("\n", " ")


def table(head, rows):
    lines = ["| " + " | ".join(head) + " |", "|" + "---|" * len(head)]
    return lines + ["| " + " | ".join(cell(text) for text in row) + " |" for row in rows]


def meaning(part, words):
    """The description of a part, else that of what it refers to, and its default."""
    inner = part if "$ref" not in part else words.target(part)[1]
    text = part.get("description") or inner.get("description", "")
    if "default" in part and "default" not in text.lower():
        text = f"{text} Default: {default_of(part['default'])}.".strip()
    return text


def default_of(value):
    if isinstance(value, bool):
        return f"`{json.dumps(value)}`"
    return spelled(value) if isinstance(value, str) else plain(value)


def by_name(words, part):
    return f"by name: {words.takes(part['additionalProperties'])}"


def key_rows(words, part, prefix=""):
    """Rows of a mapping's keys; small mappings within it are written out with dots."""
    for key, value in part.get("properties", {}).items():
        inner = value if "$ref" not in value else words.target(value)[1]
        name = prefix + key
        refers = "$ref" in value
        if inner.get("type") == "object" and inner.get("properties") and not refers:
            if isinstance(inner.get("additionalProperties"), dict):
                yield [f"`{name}`", by_name(words, inner), meaning(value, words)]
            yield from key_rows(words, inner, name + ".")
            continue
        yield [f"`{name}`", words.takes(value), meaning(value, words)]
        items = inner.get("items", {})
        if inner.get("type") == "array" and items.get("properties") and not refers:
            yield from key_rows(words, items, name + "[].")


def keys_page(schema, sections):
    """Tables of a format: its root, then each (heading, part of the schema)."""
    words = Words(schema)
    lines = table(["key", "takes", "meaning"], key_rows(words, schema))
    for heading, part in sections:
        lines += ["", f"{heading}:", ""]
        lines += table(["key", "takes", "meaning"], key_rows(words, part))
    return lines


def scenario_tables(_):
    schema = schema_of("scenario")
    defs, of = schema["$defs"], schema["properties"]
    return keys_page(schema, [
        ("A limit under `rates_kg_per_ha`, in kg per hectare", defs["rate_target"]),
        ("A limit under `grade_percent`, in percent of the product", defs["grade_target"]),
        ("Under `materials`, by name", defs["material"]),
        ("Each of `price_tiers`", defs["price_tier"]),
        ("Under `risk.prices`, by material, one of these",
         of["risk"]["properties"]["prices"]["additionalProperties"]),
        ("Under `variants`, by name", defs["variant"]),
    ])


def trial_tables(_):
    schema = schema_of("trial")
    defs, equipment = schema["$defs"], schema["properties"]["equipment"]["properties"]
    return keys_page(schema, [
        ("Under `applications`, by name", defs["application"]),
        ("Under `treatments`, by name", defs["treatment"]),
        ("Under `sites`, by name", defs["site"]),
        ("Under `equipment.mixers`, by name", equipment["mixers"]["additionalProperties"]),
        ("Under `equipment.containers`, by name", equipment["containers"]["additionalProperties"]),
        ("Under `equipment.balances`, by name", equipment["balances"]["additionalProperties"]),
    ])


def field_rows(words, part):
    required = set(part.get("required", []))
    for key, value in part["properties"].items():
        text = meaning(value, words)
        if key not in required and "only when" not in text and "absent" not in text:
            text = text.rstrip(".") + " (may be absent)."
        yield [f"`{key}`", words.takes(value), text]


def report_sections(wanted):
    schema = schema_of("reports")
    defs = schema["$defs"]
    kinds = [part["$ref"].rsplit("/", 1)[1] for part in schema["anyOf"]]
    words = Words(schema, linked=defs)
    lines = []
    for name in kinds if wanted == "kinds" else [one for one in defs if one not in kinds]:
        part = defs[name]
        lines += [f"### {name}", "", part["description"]]
        if "properties" in part:
            lines += [""] + table(["field", "holds", "meaning"], field_rows(words, part))
        else:
            lines[-1] += f" One of {words.takes({'oneOf': part.get('oneOf') or part['anyOf']})}."
        lines.append("")
    return lines[:-1]


def help_of(tool, *arguments):
    return subprocess.run([tool, *arguments, "--help"], check=True, capture_output=True,
                          text=True).stdout


def joined(lines):
    return " ".join(line.strip() for line in lines)


def command_section(tool, name):
    usage, about, *rest = help_of(tool, name).split("\n\n")
    lines = [f"### {name}", "", f"`{usage.removeprefix('Usage: ')}`", "", joined(about.splitlines())]
    for block in rest:
        title, *body = block.strip("\n").splitlines()
        if title == "Options:":
            lines += ["", *table(["option", "meaning"], option_rows(body))]
        elif title == "Examples:":
            lines += ["", "```sh", *[line.strip() for line in body], "```"]
    return lines + [""]


def option_rows(lines):
    rows = []
    for line in lines:
        found = OPTION.match(line)
        if found:
            name = found["name"].replace("-h [ --help ]", "-h, --help")
            text = found["text"] or ""
            if not found["text"] and " " in name:  # a name so long that one blank separates them
                parts = name.split(" ")
                name, text = " ".join(parts[:2]), " ".join(parts[2:])
            rows.append([f"`{name}`", text])
        else:
            rows[-1][1] = f"{rows[-1][1]} {line.strip()}".strip()
    return rows


def command_sections(tool):
    lines = help_of(tool).splitlines()
    start = lines.index("Commands:") + 1
    names = [line.split()[0] for line in lines[start : lines.index("", start)]]
    found = []
    for name in names:
        found += command_section(tool, name)
    return found[:-1]


TABLES = {
    "scenario": scenario_tables,
    "trial": trial_tables,
    "reports": lambda _: report_sections("kinds"),
    "report-parts": lambda _: report_sections("parts"),
    "commands": command_sections,
}


def written(text, tool):
    def body(match):
        lines = TABLES[match["name"]](tool)
        return match[1] + "\n" + "\n".join(lines) + "\n\n" + match[4]

    return BLOCK.sub(body, text)


def main(arguments):
    check = arguments[:1] == ["--check"]
    if len(arguments) != (2 if check else 1):
        print(__doc__, file=sys.stderr)
        return 2
    seen, stale = set(), []
    for page in sorted(PAGES.glob("*.md")):
        before = page.read_text(encoding="utf-8")
        seen |= {match["name"] for match in BLOCK.finditer(before)}
        now = written(before, arguments[-1])
        if now != before:
            stale.append(page.name)
            if not check:
                page.write_text(now, encoding="utf-8")
    for name in sorted(set(TABLES) - seen):
        print(f"no page has the tables '{name}'")
    for name in stale:
        print(f"{name} is not what the schemas and --help say; run tools/reference_pages.py TOOL"
              if check else f"wrote {name}")
    return 1 if set(TABLES) - seen or (check and stale) else 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
