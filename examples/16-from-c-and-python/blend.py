#!/usr/bin/env python3
"""The library from Python without anything to install: ctypes, the shared library, JSON.

    blend.py LIBRARY FILE
"""
import ctypes
import json
import os
import sys


def opened(path):
    """The shared library with the types of what is called here."""
    library = ctypes.CDLL(path)
    text, handle = ctypes.c_char_p, ctypes.c_void_p
    library.leastwise_run.argtypes = [text, text, text, handle]
    library.leastwise_run.restype = handle  # ours to free, so not c_char_p
    library.leastwise_call_new.restype = handle
    library.leastwise_call_folder.argtypes = [handle, text, ctypes.c_int]
    library.leastwise_call_free.argtypes = [handle]
    library.leastwise_text_free.argtypes = [handle]
    return library


def report_of(library, command, scenario, options=None, folder=None):
    """The report of a command about a scenario, as a dictionary."""
    call = library.leastwise_call_new()
    library.leastwise_call_folder(call, None if folder is None else folder.encode(), 0)
    asked = json.dumps(options or {}).encode()
    text = library.leastwise_run(command.encode(), scenario.encode(), asked, call)
    try:
        return json.loads(ctypes.string_at(text))
    finally:
        library.leastwise_text_free(text)
        library.leastwise_call_free(call)


def main(arguments):
    if len(arguments) != 2:
        print(__doc__, file=sys.stderr)
        return 64
    with open(arguments[1], encoding="utf-8") as file:
        scenario = file.read()
    folder = os.path.dirname(arguments[1]) or "."
    report = report_of(opened(arguments[0]), "blend", scenario, folder=folder)
    if report["status"] == "rejected":
        for found in report["diagnostics"]:
            print(f"{arguments[1]}:{found['line']}: {found['message']}", file=sys.stderr)
        return 1
    print(report["title"])
    if report["status"] != "optimal":
        print("  no blend obeys every rule; these conflict:")
        for rule in report["conflict"]:
            print(f"  {rule['rule']}")
        return 2
    for portion in report["portions"]:
        print(f"  {portion['material']} {portion['kg_per_ha']:.1f} kg/ha")
    print(f"  {report['cost_per_ha']:.2f} {report['currency']}/ha")
    return 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
