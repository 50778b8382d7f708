# An overlay port: it builds the source tree in which it lies.
#   vcpkg install leastwise --overlay-ports=cmake/packaging/vcpkg
get_filename_component(SOURCE_PATH "${CMAKE_CURRENT_LIST_DIR}/../../../.." ABSOLUTE)

vcpkg_check_features(OUT_FEATURE_OPTIONS FEATURE_OPTIONS FEATURES tools LEASTWISE_BUILD_TOOLS)
# Codes to scan would be made where libqrencode happens to be: a port does not depend on chance.
vcpkg_cmake_configure(
  SOURCE_PATH "${SOURCE_PATH}"
  OPTIONS
    ${FEATURE_OPTIONS}
    -DLEASTWISE_BUILD_TESTS=OFF
    -DLEASTWISE_BUILD_EXAMPLES=OFF
    -DLEASTWISE_PACKAGE=OFF
    -DLEASTWISE_QRENCODE_LIBRARY=OFF)
vcpkg_cmake_install()
vcpkg_cmake_config_fixup(CONFIG_PATH lib/cmake/leastwise)
vcpkg_fixup_pkgconfig()
if("tools" IN_LIST FEATURES)
  vcpkg_copy_tools(TOOL_NAMES leastwise AUTO_CLEAN)
endif()
file(REMOVE_RECURSE "${CURRENT_PACKAGES_DIR}/debug/include" "${CURRENT_PACKAGES_DIR}/debug/share")
vcpkg_install_copyright(FILE_LIST "${SOURCE_PATH}/LICENSE")
