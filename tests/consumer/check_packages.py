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
                          r"usr/include/leastwise/leastwise\.h", r"usr/include/leastwise/c/run\.h",
                          r"usr/lib/.*libleastwise\.so", r"usr/lib/.*pkgconfig/leastwise\.pc",
                          r"usr/lib/.*leastwiseConfig\.cmake"],
                         r"usr/(include/leastwise/|lib/).*"),
    "leastwise": ([r"usr/bin/leastwise", r"usr/share/man/man1/leastwise\.1",
                   r"usr/share/bash-completion/completions/leastwise"],
                  r"usr/(bin|share/man/man1|share/bash-completion/completions)/leastwise(\.1)?"),
    "leastwise-schema": ([r"usr/share/leastwise/scenario\.schema\.json",
                          r"usr/share/leastwise/trial\.schema\.json",
                          r"usr/share/leastwise/reports\.schema\.json"],
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


def dep5_findings(name, folder):
    """The licence is in the form that programs read."""
    text = (folder / f"usr/share/doc/{name}/copyright").read_text(encoding="utf-8")
    fields = [line.split(":")[0] for line in text.splitlines() if re.match(r"\S+:", line)]
    if fields != ["Format", "Upstream-Name", "Files", "Copyright", "License", "License"]:
        yield f"{name}: copyright has the fields {fields}"
    if "Permission is hereby granted" not in text or "\n\n " in text:
        yield f"{name}: copyright does not hold the licence in its form"


def hardening_findings(name, file):
    """Programs and libraries are as hardened as Debian's own."""
    dynamic = output_of("readelf", "-dW", str(file))
    segments = output_of("readelf", "-lW", str(file))
    symbols = output_of("readelf", "--dyn-syms", "-W", str(file))
    if "BIND_NOW" not in dynamic and "NOW" not in dynamic:
        yield f"{name}: {file.name} is not bound when it is loaded"
    if "GNU_RELRO" not in segments:
        yield f"{name}: {file.name} has tables that stay writable"
    if re.search(r"GNU_STACK( +0x[0-9a-f]+){5} +RWE", segments):
        yield f"{name}: {file.name} has a stack that can be run"
    if "__stack_chk_fail" not in symbols:
        yield f"{name}: {file.name} has no canaries on its stack"


def unpacked_findings(name, package, output_dir):
    folder = pathlib.Path(output_dir) / "unpacked" / name
    folder.parent.mkdir(parents=True, exist_ok=True)
    output_of("dpkg-deb", "-x", package, str(folder))
    yield from dep5_findings(name, folder)
    for file in folder.rglob("*"):
        if file.is_file() and not file.is_symlink() and file.read_bytes()[:4] == b"\x7fELF":
            yield from hardening_findings(name, file)


def shlibs_findings(name, package, multi_arch):
    """A later release of the same minor version serves as well."""
    if re.match(r"libleastwise[0-9]", name):
        shlibs = output_of("dpkg-deb", "-I", package, "shlibs")
        if "(>= " not in shlibs:
            yield f"{name}: shlibs are {shlibs.strip()}"
    multi = output_of("dpkg-deb", "-f", package, "Multi-Arch").strip()
    wanted = "same" if name.startswith("lib") else "foreign"
    if multi_arch and multi != wanted:
        yield f"{name}: Multi-Arch is '{multi}', not {wanted}"


def findings(build_dir, cpack, version, output_dir):
    abi = ".".join(version.split(".")[:2])

    def filled(text):
        return text.replace("{abi}", abi).replace("{version}", version)

    # The CPack of Debian 12 (3.25) does not know the field; newer ones do (from memory: 3.31).
    number = re.search(r"(\d+)\.(\d+)", output_of(cpack, "--version"))
    multi_arch = (int(number[1]), int(number[2])) >= (3, 31)
    packages = made(build_dir, cpack, output_dir)
    if set(packages) != {filled(name) for name in HOLDS}:
        yield f"packages: {sorted(packages)}"
        return
    for template, (wanted, places) in HOLDS.items():
        name = filled(template)
        yield from contents_findings(name, packages[name], map(filled, wanted), places)
        yield from unpacked_findings(name, packages[name], output_dir)
        yield from shlibs_findings(name, packages[name], multi_arch)
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
