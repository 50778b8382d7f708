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
    "libleastwise-core{abi}": ([r"usr/lib/.*libleastwise-core\.so\.{abi}",
                                r"usr/lib/.*\.so\.{version}"],
                               r"usr/lib/(.*/)?libleastwise-core\.so\.[0-9.]+"),
    "libleastwise-dev": ([r"usr/include/leastwise/leastwise\.hpp",
                          r"usr/include/leastwise/leastwise\.h", r"usr/include/leastwise/c/run\.h",
                          r"usr/lib/.*libleastwise\.so", r"usr/lib/.*libleastwise-core\.so",
                          r"usr/lib/.*pkgconfig/leastwise\.pc",
                          r"usr/lib/.*pkgconfig/leastwise-core\.pc",
                          r"usr/lib/.*leastwiseConfig\.cmake"],
                         r"usr/(include/leastwise/|lib/).*"),
    "leastwise": ([r"usr/bin/leastwise", r"usr/share/man/man1/leastwise\.1\.gz",
                   r"usr/share/bash-completion/completions/leastwise"],
                  r"usr/(bin|share/man/man1|share/bash-completion/completions)/leastwise(\.1\.gz)?"),
    "leastwise-schema": ([r"usr/share/leastwise/scenario\.schema\.json",
                          r"usr/share/leastwise/trial\.schema\.json",
                          r"usr/share/leastwise/reports\.schema\.json"],
                         r"usr/share/leastwise/.*\.schema\.json"),
    "python3-leastwise": ([r"usr/lib/python3/dist-packages/leastwise/__init__\.py",
                           r"usr/lib/python3/dist-packages/leastwise/_core.*\.so",
                           r"usr/lib/python3/dist-packages/leastwise/py\.typed"],
                          r"usr/lib/python3/dist-packages/leastwise/.*"),
}
NEEDS = {
    "libleastwise{abi}": ["coinor-libclp1", "libc6", "libfmt9", "libstdc++6", "libyaml-cpp0.7"],
    "libleastwise-core{abi}": ["coinor-libclp1", "libc6", "libfmt9", "libstdc++6"],
    "libleastwise-dev": ["libleastwise{abi}", "libleastwise-core{abi}", "leastwise-schema"],
    "leastwise": ["libleastwise{abi}", "libboost-program-options", "libc6"],
    "leastwise-schema": [],
    "python3-leastwise": ["libleastwise{abi}", "python3 (>= 3.", "python3 (<< 3."],
}
MULTI_ARCH = {"libs": "same", "libdevel": "same", "science": "foreign", "python": "no"}


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
    return [name for name in names if name and not name.endswith("/")]


def contents_findings(name, package, wanted, places):
    files = files_in(package)
    documents = [f"usr/share/doc/{name}/{file}" for file in ("copyright", "changelog.Debian.gz")]
    for pattern in [*wanted, *map(re.escape, documents)]:
        if not any(re.fullmatch(pattern, file) for file in files):
            yield f"{name}: holds no {pattern}"
    for file in files:
        if file not in [*documents, f"usr/share/lintian/overrides/{name}"] and \
                not re.fullmatch(places, file):
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


def library_findings(name, package, version):
    """A later release of the same minor version serves as well, and each symbol says since when."""
    control = output_of("dpkg-deb", "-I", package)
    if re.search(r"\b(postinst|postrm)\b", control):
        yield f"{name}: has scripts of the maintainer"
    for file, wanted in (("shlibs", rf"(>= {version}-1)"), ("triggers", "activate-noawait ldconfig"),
                         ("symbols", " 0.1.0\n")):
        if wanted not in output_of("dpkg-deb", "-I", package, file):
            yield f"{name}: {file} does not say {wanted!r}"
    symbols = output_of("dpkg-deb", "-I", package, "symbols")
    promised = pathlib.Path(__file__).parents[2] / "lib" / "exports_c.txt"
    for line in promised.read_text(encoding="utf-8").splitlines():
        symbol, since = line.split()
        if not re.search(rf"^ {symbol}@LEASTWISE\w*_[0-9.]+ {re.escape(since)}$", symbols, re.M):
            yield f"{name}: symbols do not have {symbol} since {since}"


def findings(build_dir, cpack, version, output_dir):
    abi = ".".join(version.split(".")[:2])

    def filled(text):
        return text.replace("{abi}", abi).replace("{version}", version)

    packages = made(build_dir, cpack, output_dir)
    wanted_packages = {filled(name) for name in HOLDS}
    if "LEASTWISE_PYTHON" not in pathlib.Path(build_dir, "CPackConfig.cmake").read_text("utf-8"):
        wanted_packages.remove("python3-leastwise")
    if set(packages) != wanted_packages:
        yield f"packages: {sorted(packages)}"
        return
    for template, (wanted, places) in HOLDS.items():
        name = filled(template)
        if name not in packages:
            continue
        package = packages[name]
        yield from contents_findings(name, package, map(filled, wanted), places)
        yield from unpacked_findings(name, package, output_dir)
        section = output_of("dpkg-deb", "-f", package, "Section").strip()
        if section == "libs":
            yield from library_findings(name, package, version)
        multi = output_of("dpkg-deb", "-f", package, "Multi-Arch").strip() or "no"
        if multi != MULTI_ARCH[section]:
            yield f"{name}: Multi-Arch is '{multi}', not '{MULTI_ARCH[section]}'"
        needs = output_of("dpkg-deb", "-f", package, "Depends")
        for need in map(filled, NEEDS[template]):
            if not re.search(rf"(^|, ){re.escape(need)}", needs):
                yield f"{name}: does not depend on {need}, but on: {needs.strip()}"
        if "core" in name and "yaml" in needs:
            yield f"{name}: depends on the reader of YAML: {needs.strip()}"


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
