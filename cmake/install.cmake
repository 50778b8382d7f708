# What `cmake --install` lays down, and the packages that find_package(leastwise) and pkg-config
# read. The tool installs itself (tools/CMakeLists.txt). The components are those of package.cmake.
include(CMakePackageConfigHelpers)
set(_leastwise_package_dir "${CMAKE_INSTALL_LIBDIR}/cmake/leastwise")

install(TARGETS leastwise EXPORT leastwiseTargets
  LIBRARY COMPONENT leastwise_library NAMELINK_COMPONENT leastwise_development
  ARCHIVE COMPONENT leastwise_development
  FILE_SET HEADERS COMPONENT leastwise_development)
install(TARGETS leastwise_core EXPORT leastwiseCoreTargets
  LIBRARY COMPONENT leastwise_core_library NAMELINK_COMPONENT leastwise_development
  ARCHIVE COMPONENT leastwise_development)
foreach(export leastwiseTargets leastwiseCoreTargets)
  install(EXPORT ${export} NAMESPACE leastwise:: DESTINATION "${_leastwise_package_dir}"
    COMPONENT leastwise_development)
endforeach()
file(GLOB _leastwise_schemas CONFIGURE_DEPENDS "${PROJECT_SOURCE_DIR}/lib/data/*.schema.json")
install(FILES ${_leastwise_schemas} DESTINATION "${CMAKE_INSTALL_DATADIR}/leastwise"
  COMPONENT leastwise_schema)
install(FILES "${PROJECT_SOURCE_DIR}/LICENSE" DESTINATION "${CMAKE_INSTALL_DOCDIR}")

configure_package_config_file("${PROJECT_SOURCE_DIR}/cmake/leastwiseConfig.cmake.in"
  "${PROJECT_BINARY_DIR}/leastwiseConfig.cmake"
  INSTALL_DESTINATION "${_leastwise_package_dir}"
  PATH_VARS CMAKE_INSTALL_DATADIR)
# Before 1.0 a new minor version may break its users.
write_basic_package_version_file("${PROJECT_BINARY_DIR}/leastwiseConfigVersion.cmake"
  COMPATIBILITY SameMinorVersion)
install(FILES
  "${PROJECT_BINARY_DIR}/leastwiseConfig.cmake"
  "${PROJECT_BINARY_DIR}/leastwiseConfigVersion.cmake"
  "${PROJECT_SOURCE_DIR}/cmake/FindClp.cmake"
  "${PROJECT_SOURCE_DIR}/cmake/yaml-cpp-alias.cmake"
  DESTINATION "${_leastwise_package_dir}" COMPONENT leastwise_development)

# A shared library carries its own needs; a static one leaves them to those who link it, and to a C
# program the C++ runtime as well. The file finds the prefix from where it lies, so the tree can be
# moved.
set(_leastwise_pkgconfig_dir "${CMAKE_INSTALL_LIBDIR}/pkgconfig")
file(RELATIVE_PATH _leastwise_prefix "/${_leastwise_pkgconfig_dir}" "/")
string(REGEX REPLACE "/$" "" _leastwise_prefix "${_leastwise_prefix}")
# leastwise_pkgconfig(NAME NEEDS...): the description of one library
function(leastwise_pkgconfig _leastwise_name)
  set(_leastwise_private "")
  if(NOT BUILD_SHARED_LIBS)
    list(JOIN ARGN ", " needs)
    set(_leastwise_private "Requires.private: ${needs}
Libs.private: -lstdc++ -lm
")
  endif()
  set(file "${PROJECT_BINARY_DIR}/${_leastwise_name}.pc")
  configure_file("${PROJECT_SOURCE_DIR}/cmake/leastwise.pc.in" "${file}" @ONLY)
  install(FILES "${file}" DESTINATION "${_leastwise_pkgconfig_dir}"
    COMPONENT leastwise_development)
endfunction()
leastwise_pkgconfig(leastwise "clp >= 1.17" "yaml-cpp >= 0.7" "fmt >= 9")
leastwise_pkgconfig(leastwise-core "clp >= 1.17" "fmt >= 9")
