# Installs the build, moves the tree elsewhere, and looks at what is there.
#   cmake -DBINARY_DIR=.. -DSOURCE_DIR=.. -DCONFIG=.. -DPREFIX=.. -DVERSION=.. -DBINDIR=..
#         -DDATADIR=.. -DINCLUDEDIR=.. -DTOOL=0|1 -P install_and_move.cmake
get_filename_component(folder "${PREFIX}" DIRECTORY)
file(REMOVE_RECURSE "${PREFIX}" "${folder}/first")
execute_process(
  COMMAND "${CMAKE_COMMAND}" --install "${BINARY_DIR}" --config "${CONFIG}"
          --prefix "${folder}/first"
  COMMAND_ERROR_IS_FATAL ANY)
file(RENAME "${folder}/first" "${PREFIX}")

file(GLOB ours RELATIVE "${SOURCE_DIR}/lib/include" "${SOURCE_DIR}/lib/include/leastwise/*")
file(GLOB theirs RELATIVE "${PREFIX}/${INCLUDEDIR}" "${PREFIX}/${INCLUDEDIR}/leastwise/*")
if(NOT "${ours}" STREQUAL "${theirs}" OR NOT ours)
  message(FATAL_ERROR "public headers: ${ours}\ninstalled headers: ${theirs}")
endif()

file(READ "${SOURCE_DIR}/lib/data/scenario.schema.json" ours)
file(READ "${PREFIX}/${DATADIR}/leastwise/scenario.schema.json" theirs)
if(NOT "${ours}" STREQUAL "${theirs}")
  message(FATAL_ERROR "the installed JSON Schema differs from lib/data/scenario.schema.json")
endif()

file(GLOB_RECURSE package_files "${PREFIX}/*.cmake")
foreach(file IN LISTS package_files)
  file(READ "${file}" text)
  foreach(place "${SOURCE_DIR}/lib" "${SOURCE_DIR}/cmake" "${BINARY_DIR}" "${folder}/first")
    string(FIND "${text}" "${place}" found)
    if(NOT found EQUAL -1)
      message(FATAL_ERROR "${file} names ${place}, so the tree cannot be moved")
    endif()
  endforeach()
endforeach()

if(TOOL)
  execute_process(COMMAND "${PREFIX}/${BINDIR}/leastwise" --version
    OUTPUT_VARIABLE said COMMAND_ERROR_IS_FATAL ANY)
  if(NOT said STREQUAL "leastwise ${VERSION}\n")
    message(FATAL_ERROR "the installed tool says: ${said}")
  endif()
endif()
