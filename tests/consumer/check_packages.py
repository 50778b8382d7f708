#!/usr/bin/env python3
"""Makes the Debian packages of a build that is done, and checks what they hold and need.

    check_packages.py BUILD_DIR CPACK VERSION OUTPUT_DIR
"""
import pathlib
import re
import shutil
import subprocess
import sys

HOLDS = {  # package: what must be among its files, and the only places they may lie in
    "libleastwise{abi}": ([r"usr/lib/.*libleastwise\.so\.{abi}", r"usr/lib/.*\.so\.{version}"],
                          r"usr/lib/(.*/)?libleastwise\.so\.[0-9.]+"),
    "libleastwise-dev": ([r"usr/include/leastwise/leastwise\.hpp",
                          r"usr/include/leastwise/leastwise\.h", r"usr/include/leastwise/c/draft\.h",
                          r"usr/lib/.*libleastwise\.so", r"usr/lib/.*pkgconfig/leastwise\.pc",
                          r"usr/lib/.*leastwiseConfig\.cmake"],
                         r"usr/(include/leastwise/|lib/).*"),
    "leastwise": ([r"usr/bin/leastwise", r"usr/share/man/man1/leastwise\.1",
                   r"usr/share/bash-completion/completions/leastwise"],
                  r"usr/(bin|share/man/man1|share/bash-completion/completions)/leastwise(\.1)?"),
    "leastwise-schema": ([r"usr/share/leastwise/scenario\.schema\.json",
                          r"usr/share/leastwise/trial\.schema\.json"],
                         r"usr/share/leastwise/.*\.schema\.json"),
}
NEEDS = {
    "libleastwise{abi}": ["coinor-libclp1", "libc6", "libfmt9", "libstdc++6", "libyaml-cpp0.7"],
    "libleastwise-dev": ["libleastwise{abi}", "leastwise-schema"],
    "leastwise": ["libleastwise{abi}", "libboost-program-options", "libc6"],
    "leastwise-schema": [],
}


def output_of(*command):
    return subprocess.run(command, capture_output=True, check=True, text=True).stdout


def made(build_dir, cpack, output_dir):
    """The packages, by name."""
    shutil.rmtree(output_dir, ignore_errors=True)
    output_of(cpack, "-G", "DEB", "--config", f"{build_dir}/CPackConfig.cmake", "-B", output_dir)
    files = pathlib.Path(output_dir).glob("*.deb")
    return {output_of("dpkg-deb", "-f", str(file), "Package").strip(): str(file) for file in files}


def files_in(package):
    lines = output_of("dpkg-deb", "-c", package).splitlines()
    names = (line.split(None, 5)[5].split(" -> ")[0].removeprefix("./") for line in lines)
    return [name for name in names if not name.endswith("/")]


def contents_findings(name, package, wanted, places):
    files = files_in(package)
    licence = f"usr/share/doc/{name}/copyright"
    for pattern in [*wanted, re.escape(licence)]:
        if not any(re.fullmatch(pattern, file) for file in files):
            yield f"{name}: holds no {pattern}"
    for file in files:
        if file != licence and not re.fullmatch(places, file):
            yield f"{name}: holds {file}"


def findings(build_dir, cpack, version, output_dir):
    abi = ".".join(version.split(".")[:2])

    def filled(text):
        return text.replace("{abi}", abi).replace("{version}", version)

    packages = made(build_dir, cpack, output_dir)
    if set(packages) != {filled(name) for name in HOLDS}:
        yield f"packages: {sorted(packages)}"
        return
    for template, (wanted, places) in HOLDS.items():
        name = filled(template)
        yield from contents_findings(name, packages[name], map(filled, wanted), places)
        needs = output_of("dpkg-deb", "-f", packages[name], "Depends")
        for need in map(filled, NEEDS[template]):
            if not re.search(rf"(^|, ){re.escape(need)}", needs):
                yield f"{name}: does not depend on {need}, but on: {needs.strip()}"


def main(arguments):
    if len(arguments) != 4:
        print(__doc__, file=sys.stderr)
        return 2
    found = list(findings(*arguments))
    for finding in found:
        print(finding)
    return 1 if found else 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
