# Debian packages by `cpack -G DEB`: libraries, headers, tool, schemas, Python module. What each
# depends on is read off its programs and libraries (dpkg-shlibdeps); a static build has no package
# of its own for a library. packaging/debian/finish.cmake completes them.
set(_leastwise_abi "${PROJECT_VERSION_MAJOR}.${PROJECT_VERSION_MINOR}")
set(_leastwise_or_later "(>= ${PROJECT_VERSION})")
set(_leastwise_exactly "(= ${PROJECT_VERSION}-1)")

# The licence in the form that programs read (DEP-5).
file(READ "${PROJECT_SOURCE_DIR}/LICENSE" _leastwise_licence)
string(REGEX MATCH "Copyright[^\n]*" _leastwise_holder "${_leastwise_licence}")
string(REGEX REPLACE "^Copyright (\\([cC]\\) )?" "" _leastwise_holder "${_leastwise_holder}")
string(REGEX REPLACE "^.*Copyright[^\n]*\n+" "" _leastwise_licence "${_leastwise_licence}")
string(STRIP "${_leastwise_licence}" _leastwise_licence)
string(REPLACE "\n" "\n " _leastwise_licence " ${_leastwise_licence}")
string(REGEX REPLACE "\n ( *)\n" "\n .\n" _leastwise_licence "${_leastwise_licence}")
file(WRITE "${PROJECT_BINARY_DIR}/debian-copyright"
"Format: https://www.debian.org/doc/packaging-manuals/copyright-format/1.0/
Upstream-Name: leastwise

Files: *
Copyright: ${_leastwise_holder}
License: Expat

License: Expat
${_leastwise_licence}
")

# leastwise_package(COMPONENT NAME SECTION SUMMARY TEXT): one Debian package
macro(leastwise_package component name section summary text)
  string(TOUPPER ${component} _component)
  list(APPEND CPACK_COMPONENTS_ALL ${component})
  set(CPACK_DEBIAN_${_component}_PACKAGE_NAME "${name}")
  set(CPACK_DEBIAN_${_component}_PACKAGE_SECTION "${section}")
  set(CPACK_COMPONENT_${_component}_DESCRIPTION "least-cost fertilizer blends - ${summary}
Designs granular fertilizer blends that obey every rule at the least
cost, with a proof that none is cheaper, and batches for field trials.
.
${text}")
  # EXCLUDE_FROM_ALL: for the package only; `cmake --install` lays the licence down once.
  install(FILES "${PROJECT_BINARY_DIR}/debian-copyright"
    DESTINATION "${CMAKE_INSTALL_DATADIR}/doc/${name}"
    RENAME copyright COMPONENT ${component} EXCLUDE_FROM_ALL)
endmacro()

set(CPACK_COMPONENTS_ALL)
set(_leastwise_linked "coinor-libclp-dev, libyaml-cpp-dev, libfmt-dev")
if(BUILD_SHARED_LIBS)
  leastwise_package(leastwise_library libleastwise${_leastwise_abi} libs
    "shared library"
    "This is the library that programs in C++ and C are linked to.")
  leastwise_package(leastwise_core_library libleastwise-core${_leastwise_abi} libs
    "shared library without YAML"
    "This is the library for programs that read JSON, or make their
questions themselves, and need no reader of YAML.")
  foreach(component LIBRARY CORE_LIBRARY)
    set(CPACK_DEBIAN_LEASTWISE_${component}_PACKAGE_SHLIBDEPS ON)
  endforeach()
  set(_leastwise_linked "libleastwise${_leastwise_abi} ${_leastwise_exactly}, "
    "libleastwise-core${_leastwise_abi} ${_leastwise_exactly}")
  list(JOIN _leastwise_linked "" _leastwise_linked)
endif()
leastwise_package(leastwise_development libleastwise-dev libdevel
  "headers for C++ and C"
  "These are the headers, and the files by which CMake and pkg-config
find the libraries.")
set(CPACK_DEBIAN_LEASTWISE_DEVELOPMENT_PACKAGE_DEPENDS
  "${_leastwise_linked}, leastwise-schema ${_leastwise_exactly}")
if(LEASTWISE_BUILD_TOOLS)
  leastwise_package(leastwise_tool leastwise science
    "command-line tool"
    "This is the tool: a scenario file in, a report as text, JSON, CSV or
HTML out.")
  set(CPACK_DEBIAN_LEASTWISE_TOOL_PACKAGE_SHLIBDEPS ON)
  if(BUILD_SHARED_LIBS)
    set(CPACK_DEBIAN_LEASTWISE_TOOL_PACKAGE_DEPENDS
      "libleastwise${_leastwise_abi} ${_leastwise_or_later}")
  endif()
  set(CPACK_DEBIAN_LEASTWISE_TOOL_PACKAGE_SUGGESTS "leastwise-schema")
endif()
leastwise_package(leastwise_schema leastwise-schema science
  "JSON Schemas"
  "These are the JSON Schemas of the file formats and of every report.")
set(CPACK_DEBIAN_LEASTWISE_SCHEMA_PACKAGE_ARCHITECTURE all)

if(LEASTWISE_BUILD_PYTHON)
  find_package(Python3 REQUIRED COMPONENTS Interpreter)
  math(EXPR _leastwise_next_python "${Python3_VERSION_MINOR} + 1")
  leastwise_package(leastwise_python python3-leastwise python
    "Python module"
    "This is the module for Python 3: scenarios as values, answers as objects.")
  set(CPACK_DEBIAN_LEASTWISE_PYTHON_PACKAGE_SHLIBDEPS ON)
  set(CPACK_DEBIAN_LEASTWISE_PYTHON_PACKAGE_DEPENDS
    "python3 (>= ${Python3_VERSION_MAJOR}.${Python3_VERSION_MINOR}~), "
    "python3 (<< ${Python3_VERSION_MAJOR}.${_leastwise_next_python})")
  if(BUILD_SHARED_LIBS)
    list(APPEND CPACK_DEBIAN_LEASTWISE_PYTHON_PACKAGE_DEPENDS
      ", libleastwise${_leastwise_abi} ${_leastwise_or_later}")
  endif()
  list(JOIN CPACK_DEBIAN_LEASTWISE_PYTHON_PACKAGE_DEPENDS ""
    CPACK_DEBIAN_LEASTWISE_PYTHON_PACKAGE_DEPENDS)
  set(CPACK_DEBIAN_LEASTWISE_PYTHON_PACKAGE_SUGGESTS "python3-pandas")
endif()

set(CPACK_GENERATOR DEB)
set(CPACK_PACKAGE_NAME leastwise)
set(CPACK_PACKAGE_VERSION "${PROJECT_VERSION}")
set(CPACK_PACKAGE_CONTACT "The leastwise developers <developers@leastwise.invalid>")
set(CPACK_PACKAGE_DESCRIPTION_SUMMARY "")  # each package has its own
set(CPACK_PACKAGING_INSTALL_PREFIX /usr)
set(CPACK_STRIP_FILES ON)
set(CPACK_DEB_COMPONENT_INSTALL ON)
set(CPACK_COMPONENTS_GROUPING IGNORE)
set(CPACK_DEBIAN_FILE_NAME DEB-DEFAULT)
set(CPACK_DEBIAN_PACKAGE_RELEASE 1)
set(CPACK_DEBIAN_PACKAGE_GENERATE_SHLIBS ON)
# Releases of one minor version keep what programs are linked to, so a later one will do.
set(CPACK_DEBIAN_PACKAGE_GENERATE_SHLIBS_POLICY ">=")
set(CPACK_DEBIAN_PACKAGE_SHLIBDEPS_PRIVATE_DIRS "${PROJECT_BINARY_DIR}/lib")
set(CPACK_LEASTWISE_SOURCE "${PROJECT_SOURCE_DIR}")
set(CPACK_POST_BUILD_SCRIPTS "${PROJECT_SOURCE_DIR}/cmake/packaging/debian/finish.cmake")
include(CPack)
