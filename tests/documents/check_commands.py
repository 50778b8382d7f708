#!/usr/bin/env python3
"""Checks that README's table of commands lists what the tool has, in its order.

    check_commands.py README.md PATH-OF-THE-TOOL
"""
import pathlib
import re
import subprocess
import sys

ROW = re.compile(r"^\| `leastwise (?P<name>[a-z-]+)")
LISTED = re.compile(r"^  (?P<name>[a-z-]+) +\S")


def names_in_table(readme):
    return [row["name"] for row in map(ROW.match, readme.splitlines()) if row]


def names_in_help(page):
    part = page.split("Commands:\n", 1)[1].split("\n\n", 1)[0]
    return [line["name"] for line in map(LISTED.match, part.splitlines()) if line]


def main(arguments):
    if len(arguments) != 2:
        print(__doc__, file=sys.stderr)
        return 2
    shown = names_in_table(pathlib.Path(arguments[0]).read_text(encoding="utf-8"))
    tool = subprocess.run([arguments[1], "--help"], capture_output=True, check=True, text=True)
    there = names_in_help(tool.stdout)
    if there and shown == there:
        return 0
    print(f"README lists {shown}, the tool {there}")
    return 1


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
