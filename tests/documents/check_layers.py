#!/usr/bin/env python3
"""Checks that knowledge in lib/src runs one way, as DEVELOPERS.md says, through our public headers
too, that no two files of the library have one name, and that the checker of proofs is short enough
to be read by someone who trusts nothing else here.

    check_layers.py LIB
"""
import collections
import pathlib
import re
import sys

# A room may include from itself and from those named, and from what these may include.
KNOWS = {
    "base": set(),
    "chemistry/nutrients": {"base"},
    "chemistry/materials": {"chemistry/nutrients"},
    "chemistry/hazard": {"chemistry/materials"},
    "exact": {"scenario"},
    "scenario": {"chemistry/hazard"},
    "model": {"scenario"},
    "solver": {"exact", "model"},
    "answer": {"scenario"},  # public headers alone: what an answer and a proof are
    "solve": {"solver", "answer"},
    "analysis": {"solve"},
    "proof": {"solve", "verify"},
    "verify": {"exact", "answer"},
    "trial": {"analysis"},
    "season": {"solve"},
    "input": {"trial", "season", "exact"},
    "report": {"trial", "season", "proof", "verify", "input"},
    "run": {"report"},
    "c": {"run"},
}
# The room of each public header: what it declares is defined there.
PUBLIC = {
    "base": "diagnostic export known limits load_stopped note progress unit_system version",
    "chemistry/nutrients": "formula nutrient tolerance toxic_element",
    "chemistry/materials": "catalogue compatibility material micronutrient price_tier",
    "chemistry/hazard": "hazard",
    "scenario": "draft price_spread quote_terms rule_id scenario",
    "answer": "blend_indices declared_analysis formulation nutrient_cost outcome portion proof solve_options why",
    "solve": "chance_constraint declare formulate",
    "analysis": "alternatives compare limit_map prepared price_map quote risk rounding",
    "proof": "prove",
    "verify": "verify",
    "trial": "trial trial_application trial_check trial_design trial_factorial trial_field trial_field_work trial_hold "
             "trial_load_rule trial_mix trial_plan trial_recipe trial_site trial_spray",
    "season": "season season_plan",
    "input": "load season_load trial_load",
    "report": "answer_mark render report trial_report",
    "run": "question run stream leastwise",
    "c": "c/answer c/call c/error c/formulate c/run c/scenario",
}
# Third parties, and the only rooms that know each.
ONLY_IN = {
    r"(Clp|Coin)\w*\.h(pp)?": "solver",
    r"yaml-cpp/.*": "input",
    r"fmt/.*": "report",
    r"nlohmann/.*": "report input",
    r"boost/.*": "exact",
}
# Lines of code, neither empty nor a comment alone, that a room must stay under.
LINES_UNDER = {"verify": 450}
NO_CODE = re.compile(r"\s*(//.*)?")
INCLUDE = re.compile(r'^#include (?:"(?P<ours>[^"]+)"|<leastwise/(?P<public>[^"]+)\.h(?:pp)?>|<(?P<theirs>[^>]+)>)')


def closure():
    known = {room: set(direct) for room, direct in KNOWS.items()}
    for _ in KNOWS:
        for room in known:
            known[room] |= {far for near in known[room] for far in known[near]}
    for room in KNOWS:
        if room in known[room]:
            raise SystemExit(f"{room} would know itself in a circle")
    return known


def room_of(path):
    parts = pathlib.PurePosixPath(path).parts
    pair = "/".join(parts[:2])
    return pair if pair in KNOWS else parts[0]


def includes(file):
    for number, line in enumerate(file.read_text(encoding="utf-8").splitlines(), start=1):
        match = INCLUDE.match(line)
        if match:
            yield number, match


def public_rooms(include):
    """The room of each public header that is there, and complaints about the list above."""
    rooms = {stem: room for room, stems in PUBLIC.items() for stem in stems.split()}
    there = {file.relative_to(include / "leastwise").with_suffix("").as_posix()
             for file in include.rglob("*.h*")}
    for stem in sorted(there - rooms.keys()):
        yield f"{stem}: public header without a room in check_layers.py"
    for stem in sorted(rooms.keys() - there):
        yield f"{stem}: room in check_layers.py without a public header"
    return rooms


def findings(lib):
    src, include = lib / "src", lib / "include"
    files = sorted(path for path in src.rglob("*") if path.suffix in {".cpp", ".hpp"})
    if not files:
        yield f"{src}: no source here"
    rooms = yield from public_rooms(include)
    known = closure()
    named = collections.Counter(file.name for file in files)
    for name, count in sorted(named.items()):
        if count > 1:
            yield f"{name}: {count} files of this name"
    for file in files:
        name = file.relative_to(src)
        room = room_of(name.as_posix())
        if room not in KNOWS:
            yield f"{name}: {room} has no arrows in check_layers.py"
            continue
        for number, match in includes(file):
            if match["theirs"]:
                for pattern, home in ONLY_IN.items():
                    if re.fullmatch(pattern, match["theirs"]) and room not in home.split():
                        yield f"{name}:{number}: only {home} may include {match['theirs']}"
                continue
            other = room_of(match["ours"]) if match["ours"] else rooms.get(match["public"])
            if other and other != room and other not in known[room]:
                yield f"{name}:{number}: {room} must not know {other}"
    for header in sorted(include.rglob("*.hpp")):
        name = header.relative_to(include / "leastwise")
        room = rooms.get(name.with_suffix("").as_posix())
        for number, match in includes(header):
            other = match["public"] and rooms.get(match["public"])
            if room and other and other != room and other not in known[room]:
                yield f"include {name}:{number}: {room} must not know {other}"
    for room, most in LINES_UNDER.items():
        lines = sum(not NO_CODE.fullmatch(line) for file in (src / room).rglob("*.?pp")
                    for line in file.read_text(encoding="utf-8").splitlines())
        if lines >= most:
            yield f"{room}: {lines} lines of code, which must be fewer than {most}"


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
