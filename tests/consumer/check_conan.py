#!/usr/bin/env python3
"""Runs the Conan recipe with a stand-in for Conan, and holds what it says against an install tree:
the version, the sources it takes along, its options, and the libraries it names. Where the client
is installed, it reads the recipe too.

    check_conan.py SOURCE_DIR PREFIX VERSION FOLDER
"""
import fnmatch
import importlib.util
import pathlib
import shutil
import subprocess
import sys
import types


class Anything:
    """Has every attribute and method; each call is noted in `calls`."""

    calls = []

    def __init__(self, name="it"):
        self._name = name
        self.cache_variables = {}

    def __getattr__(self, name):
        return lambda *words, **named: Anything.calls.append((f"{self._name}.{name}", words, named))


def copied(_recipe, pattern, src, dst):
    """As Conan does: the pattern is held against the whole path below `src`."""
    root = pathlib.Path(src)
    for file in root.rglob("*"):
        below = file.relative_to(root)
        if file.is_file() and below.parts[0] not in ("build", ".git") and \
                fnmatch.fnmatch(below.as_posix(), pattern):
            target = pathlib.Path(dst) / below
            target.parent.mkdir(parents=True, exist_ok=True)
            shutil.copyfile(file, target)


class Made(Anything):
    """Stands for CMake, CMakeDeps and CMakeToolchain: remembers the last one of each."""

    last = {}

    def __init__(self, name):
        super().__init__(name)
        Made.last[name] = self


def stand_ins():
    modules = {name: types.ModuleType(name) for name in
               ("conan", "conan.tools", "conan.tools.cmake", "conan.tools.files")}
    modules["conan"].ConanFile = object
    for name in ("CMake", "CMakeDeps", "CMakeToolchain"):
        setattr(modules["conan.tools.cmake"], name, lambda _recipe, name=name: Made(name))
    modules["conan.tools.cmake"].cmake_layout = lambda _recipe: None
    modules["conan.tools.files"].copy = copied
    modules["conan.tools.files"].load = lambda _recipe, file: pathlib.Path(file).read_text("utf-8")
    modules["conan.tools.files"].rmdir = lambda _recipe, folder: shutil.rmtree(folder)
    sys.modules.update(modules)


class Component(Anything):
    """What `cpp_info` holds of one library."""

    def __init__(self):
        super().__init__("component")
        self.properties = {}

    def set_property(self, name, value):
        self.properties[name] = value


class Components(dict):
    """Makes a component when it is first named."""

    def __missing__(self, key):
        self[key] = Component()
        return self[key]


def run_of(recipe_file, prefix, folder):
    """The recipe after everything that `conan create` calls, in that order."""
    spec = importlib.util.spec_from_file_location("conanfile", recipe_file)
    module = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(module)
    recipe = module.LeastwiseConan()
    recipe.options = types.SimpleNamespace(**recipe.default_options, rm_safe=lambda _name: None)
    recipe.settings = types.SimpleNamespace(os="Linux")
    recipe.requires = Anything("needs").requires
    recipe.export_sources_folder = recipe.source_folder = str(folder / "sources")
    recipe.package_folder = str(folder / "package")
    recipe.cpp_info = types.SimpleNamespace(components=Components())
    shutil.rmtree(folder, ignore_errors=True)
    shutil.copytree(prefix, recipe.package_folder)
    for step in ("set_version", "export_sources", "configure", "layout", "requirements", "generate",
                 "build", "package", "package_info"):
        getattr(recipe, step)()
    return recipe


def findings(source_dir, prefix, version, folder):
    source, folder = pathlib.Path(source_dir), pathlib.Path(folder)
    stand_ins()
    recipe = run_of(source / "cmake/packaging/conan/conanfile.py", prefix, folder)
    if recipe.version != version:
        yield f"the recipe is of version {recipe.version}"
    listed = subprocess.run(["git", "-C", source, "ls-files", "CMakeLists.txt", "LICENSE", "cmake",
                             "lib", "tools"], capture_output=True, text=True, check=False)
    for name in listed.stdout.split():
        if not (folder / "sources" / name).exists():
            yield f"the sources lack {name}"
    if not (folder / "sources/lib/src/solver/CMakeLists.txt").exists():
        yield "the sources lack the library"
    options = (source / "CMakeLists.txt").read_text("utf-8")
    for option in Made.last["CMakeToolchain"].cache_variables:
        if f"option({option} " not in options and option != "LEASTWISE_QRENCODE_LIBRARY":
            yield f"the recipe sets {option}, which is no option of ours"
    needed = {words[0].split("/")[0] for name, words, _ in Anything.calls
              if name == "needs.requires"}
    if needed != {"coin-clp", "fmt", "yaml-cpp", "nlohmann_json", "boost"}:
        yield f"the recipe needs {sorted(needed)}"
    package = folder / "package"
    if (package / "lib/cmake").exists() or not (package / "licenses/LICENSE").exists():
        yield "the package is not as Conan wants it"
    targets = {}
    for component in recipe.cpp_info.components.values():
        targets[component.properties["cmake_target_name"]] = component
        for library in component.libs:
            if not list(package.glob(f"lib/**/lib{library}.*")):
                yield f"the package holds no library {library}"
    if set(targets) != {"leastwise::core", "leastwise::leastwise"}:
        yield f"the targets are {sorted(targets)}"
    elif any("yaml" in one for one in targets["leastwise::core"].requires):
        yield "the library without YAML requires its reader"
    if shutil.which("conan"):
        read = subprocess.run(["conan", "inspect", source / "cmake/packaging/conan"],
                              capture_output=True, text=True, check=False)
        if read.returncode != 0:
            yield f"conan inspect: {read.stderr}"


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
