#!/usr/bin/env python3
"""Checks that the settings of the API pages notice a public declaration without its comment.

    check_api_pages.py DOXYGEN DOXYFILE
"""
import pathlib
import subprocess
import sys
import tempfile

HEADER = """#pragma once
/// A name space.
namespace sample {{
/// A thing.
struct Thing {{
  int size = 0;{}
}};
}}  // namespace sample
"""
SETTINGS = """@INCLUDE = "{doxyfile}"
INPUT = "{folder}"
OUTPUT_DIRECTORY = "{folder}/pages"
USE_MDFILE_AS_MAINPAGE =
"""


def run(doxygen, doxyfile, comment):
    with tempfile.TemporaryDirectory() as name:
        folder = pathlib.Path(name)
        (folder / "sample.hpp").write_text(HEADER.format(comment), encoding="utf-8")
        settings = folder / "Doxyfile"
        settings.write_text(SETTINGS.format(doxyfile=doxyfile, folder=folder), encoding="utf-8")
        return subprocess.run([doxygen, settings], capture_output=True, check=False, text=True)


def main(arguments):
    if len(arguments) != 2:
        print(__doc__, file=sys.stderr)
        return 2
    with_comment = run(*arguments, "  ///< in metres")
    without = run(*arguments, "")
    missed = "Member size (variable) of struct sample::Thing is not documented"
    if with_comment.returncode == 0 and without.returncode != 0 and missed in without.stderr:
        return 0
    print(f"with a comment: exit code {with_comment.returncode}\n{with_comment.stderr}")
    print(f"without: exit code {without.returncode}\n{without.stderr}")
    return 1


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
