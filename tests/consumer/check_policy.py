#!/usr/bin/env python3
"""Asks lintian whether packages obey Debian's policy: no error and no warning that has no override
with its reason. Returns 77, which skips the test, where lintian is not installed.

    check_policy.py FOLDER
"""
import pathlib
import shutil
import subprocess
import sys


def main(arguments):
    if len(arguments) != 1:
        print(__doc__, file=sys.stderr)
        return 2
    if not shutil.which("lintian"):
        print("lintian is not installed: the packages are not held against Debian's policy")
        return 77
    packages = sorted(map(str, pathlib.Path(arguments[0]).glob("*.deb")))
    if not packages:
        print(f"no packages in {arguments[0]}")
        return 1
    answer = subprocess.run(["lintian", "--allow-root", "--fail-on", "error,warning",
                             "--tag-display-limit", "0", *packages],
                            capture_output=True, text=True, check=False)
    print(answer.stdout + answer.stderr, end="")
    return answer.returncode


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
