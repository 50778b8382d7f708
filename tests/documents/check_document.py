#!/usr/bin/env python3
"""Checks that a Markdown document shows what the project really holds.

A fenced block behind a comment `<!-- file: PATH -->` must equal that file, byte for byte; behind
`<!-- part of: PATH -->` its lines must stand in that file, one after another, at any indentation.
Blocks of scenarios, programs and reports must have such a comment; shell and CMake lines may go
without. Links and file names in comments are relative to the document, and must exist.

    check_document.py DOCUMENT...
"""
import pathlib
import re
import sys
import textwrap

FREE_LANGUAGES = {"sh", "cmake"}
MARK = re.compile(r"^<!-- (?P<extent>file|part of): (?P<path>\S+) -->$")
FENCE = re.compile(r"^(?P<ticks>`{3,})(?P<language>\S*)$")
LINK = re.compile(r"\]\((?P<target>[^)\s]+)\)")


def blocks(lines):
    """Yields (line number of the fence, language, match of the comment above or None, content)."""
    mark, number = None, 0
    while number < len(lines):
        fence = FENCE.match(lines[number])
        if fence:
            start = number
            number += 1
            while number < len(lines) and lines[number] != fence["ticks"]:
                number += 1
            if number == len(lines):
                raise ValueError(f"{start + 1}: a block is never closed")
            content = "".join(line + "\n" for line in lines[start + 1 : number])
            yield start + 1, fence["language"], mark, content
            mark = None
        elif match := MARK.match(lines[number]):
            mark = match
        elif lines[number].strip():
            mark = None
        number += 1


def first_difference(shown, held):
    for number, (a, b) in enumerate(zip(shown.split("\n"), held.split("\n")), start=1):
        if a != b:
            return f"line {number} of the block is {a!r}, of the file {b!r}"
    return "one ends before the other"


def stands_in(shown, held):
    shown, held = textwrap.dedent(shown).splitlines(), held.splitlines()
    parts = (held[start : start + len(shown)] for start in range(len(held) - len(shown) + 1))
    return bool(shown) and any(
        textwrap.dedent("\n".join(part)).splitlines() == shown for part in parts
    )


def check_blocks(lines, folder):
    for number, language, mark, content in blocks(lines):
        if mark is None:
            if language not in FREE_LANGUAGES:
                yield f"{number}: a block of '{language or 'text'}' names no file that it shows"
            continue
        file = folder / mark["path"]
        if not file.is_file():
            yield f"{number}: there is no file {mark['path']}"
            continue
        held = file.read_text(encoding="utf-8")
        if mark["extent"] == "part of":
            if not stands_in(content, held):
                yield f"{number}: these lines do not stand in {mark['path']}"
        elif content != held:
            yield f"{number}: differs from {mark['path']}: {first_difference(content, held)}"


def anchor(heading):
    return re.sub(r"[^\w\- ]", "", heading.strip().lower()).replace(" ", "-")


def outside_blocks(lines):
    inside = None
    for number, line in enumerate(lines, start=1):
        fence = FENCE.match(line)
        if inside is None and fence:
            inside = fence["ticks"]
        elif inside is not None:
            if line == inside:
                inside = None
        else:
            yield number, line


def anchors_of(text):
    lines = outside_blocks(text.splitlines())
    return {anchor(line.lstrip("#")) for _, line in lines if line.startswith("#")}


def check_links(text, document):
    for number, line in outside_blocks(text.splitlines()):
        for link in LINK.finditer(line):
            path, _, fragment = link["target"].partition("#")
            if "://" in path:
                continue
            target = document.parent / path if path else document
            if not target.exists():
                yield f"{number}: links to {path}, which does not exist"
            elif fragment and fragment not in anchors_of(target.read_text(encoding="utf-8")):
                yield f"{number}: links to #{fragment}, which is no heading of {target.name}"


def findings(document):
    text = document.read_text(encoding="utf-8")
    try:
        found = list(check_blocks(text.splitlines(), document.parent))
    except ValueError as error:
        return [str(error)]
    return found + list(check_links(text, document))


def main(names):
    if not names:
        print(__doc__, file=sys.stderr)
        return 2
    failed = False
    for name in names:
        for finding in findings(pathlib.Path(name)):
            failed = True
            print(f"{name}:{finding}")
    return 1 if failed else 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
