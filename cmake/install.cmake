# What `cmake --install` lays down, and the package that find_package(leastwise) reads. The tool
# installs itself (tools/CMakeLists.txt).
include(CMakePackageConfigHelpers)
set(_leastwise_package_dir "${CMAKE_INSTALL_LIBDIR}/cmake/leastwise")

install(TARGETS leastwise EXPORT leastwiseTargets FILE_SET HEADERS)
install(EXPORT leastwiseTargets NAMESPACE leastwise:: DESTINATION "${_leastwise_package_dir}")
file(GLOB _leastwise_schemas CONFIGURE_DEPENDS "${PROJECT_SOURCE_DIR}/lib/data/*.schema.json")
install(FILES ${_leastwise_schemas} DESTINATION "${CMAKE_INSTALL_DATADIR}/leastwise")
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
  DESTINATION "${_leastwise_package_dir}")
