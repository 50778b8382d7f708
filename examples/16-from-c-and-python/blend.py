#!/usr/bin/env python3
"""The library from Python, without anything to install: ctypes and the shared library.

    blend.py LIBRARY FILE
"""
import ctypes
import json
import sys

OK = 0


def opened(path):
    """The shared library with the types of what is called here."""
    library = ctypes.CDLL(path)
    handle = ctypes.c_void_p
    place = ctypes.POINTER(handle)
    library.leastwise_scenario_load.argtypes = [ctypes.c_char_p, ctypes.c_int, place, place]
    library.leastwise_scenario_free.argtypes = [handle]
    library.leastwise_formulate.argtypes = [handle, ctypes.c_void_p, place, place]
    library.leastwise_answer_status.argtypes = [handle]
    library.leastwise_answer_to_json.argtypes = [handle]
    library.leastwise_answer_to_json.restype = handle  # ours to free, so not c_char_p
    library.leastwise_answer_free.argtypes = [handle]
    library.leastwise_text_free.argtypes = [handle]
    library.leastwise_error_text.argtypes = [handle]
    library.leastwise_error_text.restype = ctypes.c_char_p
    library.leastwise_error_free.argtypes = [handle]
    return library


class Rejected(Exception):
    """The input was rejected; the text says why, with line and column."""


def checked(library, call, *arguments):
    """What `call` gives out. Raises: Rejected."""
    result, error = ctypes.c_void_p(), ctypes.c_void_p()
    if call(*arguments, ctypes.byref(result), ctypes.byref(error)) == OK:
        return result
    text = library.leastwise_error_text(error).decode()
    library.leastwise_error_free(error)
    raise Rejected(text)


def report_of(library, file):
    """The JSON report for the scenario in `file`, as a dictionary."""
    scenario = checked(library, library.leastwise_scenario_load, file.encode(), 0)
    answer = checked(library, library.leastwise_formulate, scenario, None)
    text = library.leastwise_answer_to_json(answer)
    try:
        return json.loads(ctypes.string_at(text))
    finally:
        library.leastwise_text_free(text)
        library.leastwise_answer_free(answer)
        library.leastwise_scenario_free(scenario)


def main(arguments):
    if len(arguments) != 2:
        print(__doc__, file=sys.stderr)
        return 64
    try:
        report = report_of(opened(arguments[0]), arguments[1])
    except Rejected as rejected:
        print(rejected, end="", file=sys.stderr)
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
