#!/usr/bin/env python3
"""Checks that everything a public header declares outside its classes can be linked to: that
LEASTWISE_API stands before it.

    check_declarations.py INCLUDE_DIR
"""
import pathlib
import re
import sys

# A declaration begins at the margin; what has a body, or is of the language, needs no mark.
BEGINNING = re.compile(r"(\[\[nodiscard\]\] )?[A-Za-z_:]")
OF_THE_LANGUAGE = re.compile(r"(namespace|struct|class|enum|using|inline|template|constexpr|#|//)")


def declarations(text):
    """Each declaration at the margin, on one line, with the number of its first line."""
    lines = text.splitlines()
    inside = False  # whether the line before left its statement open
    for number, line in enumerate(lines, start=1):
        begins = BEGINNING.match(line) and not OF_THE_LANGUAGE.match(line) and not inside
        inside = bool(re.match(r"\S", line)) and re.search(r"[\w>,(&*]$", line) is not None \
            and not line.startswith(("#", "//"))
        if begins:
            whole = line
            for more in lines[number:]:
                if whole.rstrip().endswith((";", "{")):
                    break
                whole += " " + more.strip()
            yield number, whole


def findings(root):
    headers = sorted(root.rglob("*.hpp"))
    if not headers:
        yield f"{root}: no header here"
    for header in headers:
        for number, line in declarations(header.read_text(encoding="utf-8")):
            if "(" in line and "LEASTWISE_API" not in line:
                yield f"{header.name}:{number}: LEASTWISE_API is missing: {line}"


def main(arguments):
    if len(arguments) != 1:
        print(__doc__, file=sys.stderr)
        return 2
    found = list(findings(pathlib.Path(arguments[0])))
    for finding in found:
        print(finding)
    return 1 if found else 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
