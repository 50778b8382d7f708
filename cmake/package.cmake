# Debian packages by `cpack -G DEB`: library, headers, tool, schemas. What each depends on is read
# off its programs and libraries (dpkg-shlibdeps); a static build has no package of its own for the
# library.
set(_leastwise_abi "${PROJECT_VERSION_MAJOR}.${PROJECT_VERSION_MINOR}")
set(_leastwise_exactly "(= ${PROJECT_VERSION}-1)")

# leastwise_package(COMPONENT NAME SECTION SUMMARY): one Debian package
macro(leastwise_package component name section summary)
  string(TOUPPER ${component} _component)
  list(APPEND CPACK_COMPONENTS_ALL ${component})
  set(CPACK_DEBIAN_${_component}_PACKAGE_NAME "${name}")
  set(CPACK_DEBIAN_${_component}_PACKAGE_SECTION "${section}")
  set(CPACK_DEBIAN_${_component}_DESCRIPTION "${summary}")
  set(CPACK_COMPONENT_${_component}_DESCRIPTION "${summary}")
  # EXCLUDE_FROM_ALL: for the package only; `cmake --install` lays the licence down once.
  install(FILES "${PROJECT_SOURCE_DIR}/LICENSE" DESTINATION "${CMAKE_INSTALL_DATADIR}/doc/${name}"
    RENAME copyright COMPONENT ${component} EXCLUDE_FROM_ALL)
endmacro()

set(CPACK_COMPONENTS_ALL)
set(_leastwise_linked "coinor-libclp-dev, libyaml-cpp-dev, libfmt-dev")
if(BUILD_SHARED_LIBS)
  leastwise_package(leastwise_library libleastwise${_leastwise_abi} libs
    "least-cost granular fertilizer blends - shared library")
  set(CPACK_DEBIAN_LEASTWISE_LIBRARY_PACKAGE_SHLIBDEPS ON)
  set(_leastwise_linked "libleastwise${_leastwise_abi} ${_leastwise_exactly}")
endif()
leastwise_package(leastwise_development libleastwise-dev libdevel
  "least-cost granular fertilizer blends - headers for C++ and C")
set(CPACK_DEBIAN_LEASTWISE_DEVELOPMENT_PACKAGE_DEPENDS
  "${_leastwise_linked}, leastwise-schema ${_leastwise_exactly}")
if(LEASTWISE_BUILD_TOOLS)
  leastwise_package(leastwise_tool leastwise science
    "least-cost granular fertilizer blends - command-line tool")
  set(CPACK_DEBIAN_LEASTWISE_TOOL_PACKAGE_SHLIBDEPS ON)
  if(BUILD_SHARED_LIBS)
    set(CPACK_DEBIAN_LEASTWISE_TOOL_PACKAGE_DEPENDS "${_leastwise_linked}")
  endif()
  set(CPACK_DEBIAN_LEASTWISE_TOOL_PACKAGE_SUGGESTS "leastwise-schema")
endif()
leastwise_package(leastwise_schema leastwise-schema science
  "least-cost granular fertilizer blends - JSON Schemas of the file formats")
set(CPACK_DEBIAN_LEASTWISE_SCHEMA_PACKAGE_ARCHITECTURE all)

set(CPACK_GENERATOR DEB)
set(CPACK_PACKAGE_NAME leastwise)
set(CPACK_PACKAGE_VERSION "${PROJECT_VERSION}")
set(CPACK_PACKAGE_CONTACT "The leastwise developers <developers@leastwise.invalid>")
set(CPACK_PACKAGE_DESCRIPTION_SUMMARY "${PROJECT_DESCRIPTION}")
set(CPACK_PACKAGING_INSTALL_PREFIX /usr)
set(CPACK_STRIP_FILES ON)
set(CPACK_DEB_COMPONENT_INSTALL ON)
set(CPACK_COMPONENTS_GROUPING IGNORE)
set(CPACK_DEBIAN_FILE_NAME DEB-DEFAULT)
set(CPACK_DEBIAN_PACKAGE_RELEASE 1)
set(CPACK_DEBIAN_PACKAGE_GENERATE_SHLIBS ON)
set(CPACK_DEBIAN_PACKAGE_GENERATE_SHLIBS_POLICY "=")
set(CPACK_DEBIAN_PACKAGE_SHLIBDEPS_PRIVATE_DIRS "${PROJECT_BINARY_DIR}/lib")
include(CPack)
