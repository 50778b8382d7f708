#!/usr/bin/env python3
"""Checks that a shared library shows what its headers declare, and nothing else.

What exports_c.txt names is what every release 0.1.x keeps: a name may be added to it, none taken.

    check_exports.py LIBRARY INCLUDE_DIR NM READELF SONAME
"""
import pathlib
import re
import subprocess
import sys

OURS = re.compile(
    r"(?!.*\bleastwise::[a-z_]+::)"  # the inside has namespaces of its own
    r"(leastwise_[a-z_0-9]+$|leastwise::|(typeinfo|typeinfo name|vtable) for leastwise::)")
FOREIGN = re.compile(r"(YAML|fmt::|nlohmann|Clp|Coin|boost)")
IN_C = re.compile(r"^LEASTWISE_API[^;(]*?\b(leastwise_[a-z_0-9]+)\(", re.MULTILINE)


def output_of(*command):
    return subprocess.run(command, capture_output=True, check=True, text=True).stdout


def exported(nm, library):
    """Names of what the library defines for others, as a person would write them."""
    lines = output_of(nm, "-D", "-C", "--defined-only", library).splitlines()
    names = (line.split(" ", 2)[2] for line in lines)
    return {name.split("@@")[0] for name in names if not name.startswith("LEASTWISE_")}


def findings(library, include_dir, nm, readelf, soname):
    names = exported(nm, library)
    for name in sorted(names):
        if not OURS.match(name) or FOREIGN.search(name) or " std::" in name.split("(")[0]:
            yield f"exported, but not ours: {name}"
    headers = sorted(pathlib.Path(include_dir).rglob("*.h"))
    declared = {name for header in headers
                for name in IN_C.findall(header.read_text(encoding="utf-8"))}
    promised = {line.split()[0] for line in
                (pathlib.Path(include_dir).parent / "exports_c.txt").read_text().splitlines()}
    for name in sorted(promised - declared):
        yield f"promised to C programs, but not declared: {name}"
    for name in sorted(declared - promised):
        yield f"declared for C, but not promised: name it in exports_c.txt: {name}"
    for name in sorted(declared - names):
        yield f"declared, but not exported: {name}"
    for name in sorted(n for n in names - declared if n.startswith("leastwise_")):
        yield f"exported, but not declared: {name}"
    for wanted in ("leastwise::formulate(", "leastwise::Scenario::Scenario(",
                   "typeinfo for leastwise::InputError"):
        if not any(name.startswith(wanted) for name in names):
            yield f"not exported: {wanted}"
    if f"[{soname}]" not in output_of(readelf, "-d", library):
        yield f"the library is not called {soname}"


def main(arguments):
    if len(arguments) != 5:
        print(__doc__, file=sys.stderr)
        return 2
    found = list(findings(*arguments))
    for finding in found:
        print(finding)
    return 1 if found else 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
