"""The Conan 2 recipe, for the source tree in which it lies: conan create cmake/packaging/conan"""
import os
import re

from conan import ConanFile
from conan.tools.cmake import CMake, CMakeDeps, CMakeToolchain, cmake_layout
from conan.tools.files import copy, load, rmdir

ROOT = os.path.join(os.path.dirname(os.path.abspath(__file__)), "..", "..", "..")


class LeastwiseConan(ConanFile):
    name = "leastwise"
    license = "MIT"
    description = "Least-cost granular fertilizer blends that obey every rule, with proofs"
    package_type = "library"
    settings = "os", "arch", "compiler", "build_type"
    options = {"shared": [True, False], "fPIC": [True, False], "tools": [True, False]}
    default_options = {"shared": False, "fPIC": True, "tools": False}

    def set_version(self):
        header = load(self, os.path.join(ROOT, "lib", "include", "leastwise", "version.h"))
        parts = (re.search(rf"VERSION_{part} (\d+)", header) for part in ("MAJOR", "MINOR", "PATCH"))
        self.version = ".".join(part[1] for part in parts)

    def export_sources(self):
        for pattern in ("CMakeLists.txt", "LICENSE", "cmake/*", "lib/*", "tools/*"):
            copy(self, pattern, src=ROOT, dst=self.export_sources_folder)

    def configure(self):
        if self.options.shared:
            self.options.rm_safe("fPIC")

    def layout(self):
        cmake_layout(self)

    def requirements(self):
        self.requires("coin-clp/1.17.7")
        self.requires("fmt/9.1.0")
        self.requires("yaml-cpp/0.7.0")
        self.requires("nlohmann_json/3.11.2", visible=False)
        self.requires("boost/1.83.0", visible=False)

    def generate(self):
        deps = CMakeDeps(self)
        # As FindClp.cmake calls them.
        deps.set_property("coin-clp", "cmake_file_name", "Clp")
        deps.set_property("coin-clp", "cmake_target_name", "Clp::Clp")
        deps.generate()
        toolchain = CMakeToolchain(self)
        toolchain.cache_variables["LEASTWISE_BUILD_TESTS"] = False
        toolchain.cache_variables["LEASTWISE_BUILD_EXAMPLES"] = False
        toolchain.cache_variables["LEASTWISE_BUILD_TOOLS"] = bool(self.options.tools)
        toolchain.cache_variables["LEASTWISE_PACKAGE"] = False
        toolchain.cache_variables["LEASTWISE_QRENCODE_LIBRARY"] = "OFF"
        toolchain.generate()

    def build(self):
        cmake = CMake(self)
        cmake.configure()
        cmake.build()

    def package(self):
        CMake(self).install()
        copy(self, "LICENSE", src=self.source_folder,
             dst=os.path.join(self.package_folder, "licenses"))
        for folder in ("cmake", "pkgconfig"):  # Conan writes its own
            rmdir(self, os.path.join(self.package_folder, "lib", folder))

    def package_info(self):
        for component, library, more in (("core", "leastwise-core", []),
                                         ("leastwise", "leastwise", ["yaml-cpp::yaml-cpp"])):
            info = self.cpp_info.components[component]
            info.libs = [library]
            info.requires = ["coin-clp::coin-clp", "fmt::fmt", *more]
            info.set_property("cmake_target_name", f"leastwise::{component}")
            info.set_property("pkg_config_name", library)
            if self.settings.os == "Linux":
                info.system_libs = ["m"]
