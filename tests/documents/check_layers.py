#!/usr/bin/env python3
"""Checks that knowledge in lib/src runs one way, as DEVELOPERS.md says, and that the checker of
proofs is short enough to be read by someone who trusts nothing else here.

    check_layers.py LIB_SRC
"""
import pathlib
import re
import sys

# A folder may include from itself and from those named.
MAY_INCLUDE = {
    "text": set(),
    "nutrients": set(),
    "materials": {"nutrients"},
    "hazard": {"text", "nutrients", "materials"},
    "exact": {"nutrients"},
    "scenario": {"text", "hazard", "materials", "nutrients"},
    "model": {"scenario"},
    "solver": {"exact", "model"},
    "insight": {"model", "solver", "scenario", "hazard", "materials", "nutrients"},
    "proof": {"exact", "model", "solver", "insight"},
    "verify": {"exact"},
    "trial": {"scenario", "hazard", "materials", "nutrients", "insight"},
    "yaml": {"text", "scenario", "nutrients", "trial"},
    "report": {"text", "exact", "hazard"},
    "c": set(),
}
# Third parties, and the only folder that knows each.
ONLY_IN = {
    r"(Clp|Coin)\w*\.h(pp)?": "solver",
    r"yaml-cpp/.*": "yaml",
    r"(fmt|nlohmann)/.*": "report",
    r"boost/.*": "exact",
}
# Lines of code, neither empty nor a comment alone, that a folder must stay under.
LINES_UNDER = {"verify": 450}
NO_CODE = re.compile(r"\s*(//.*)?")
INCLUDE = re.compile(r'^#include (?:"(?P<ours>[^"]+)"|<(?P<theirs>[^>]+)>)')


def findings(root):
    files = sorted(path for path in root.rglob("*") if path.suffix in {".cpp", ".hpp"})
    if not files:
        yield f"{root}: no source here"
    lines_of = dict.fromkeys(LINES_UNDER, 0)
    for file in files:
        name = file.relative_to(root)
        folder = name.parts[0]
        lines = file.read_text(encoding="utf-8").splitlines()
        if folder in lines_of:
            lines_of[folder] += sum(not NO_CODE.fullmatch(line) for line in lines)
        for number, line in enumerate(lines, start=1):
            include = INCLUDE.match(line)
            if not include:
                continue
            if include["ours"]:
                other = include["ours"].split("/")[0]
                if other != folder and other not in MAY_INCLUDE.get(folder, set()):
                    yield f"{name}:{number}: {folder} must not know {other}"
                continue
            for pattern, home in ONLY_IN.items():
                if re.fullmatch(pattern, include["theirs"]) and folder != home:
                    yield f"{name}:{number}: only {home} may include {include['theirs']}"
    for folder, most in LINES_UNDER.items():
        if lines_of[folder] >= most:
            yield f"{folder}: {lines_of[folder]} lines of code, which must be fewer than {most}"


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
