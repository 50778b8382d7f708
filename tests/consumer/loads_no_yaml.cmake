# A program, and the libraries it loads, need no yaml-cpp.
#   cmake -DREADELF=readelf -DPROGRAM=.. -P loads_no_yaml.cmake
execute_process(COMMAND "${READELF}" -dW "${PROGRAM}" OUTPUT_VARIABLE needed
  COMMAND_ERROR_IS_FATAL ANY)
file(GET_RUNTIME_DEPENDENCIES EXECUTABLES "${PROGRAM}" RESOLVED_DEPENDENCIES_VAR found
  UNRESOLVED_DEPENDENCIES_VAR missing)
if(NOT needed MATCHES "NEEDED" OR NOT found)
  message(FATAL_ERROR "what the program needs could not be read")
endif()
if(missing)
  message(FATAL_ERROR "not found: ${missing}")
endif()
if("${needed};${found}" MATCHES "yaml-cpp|libleastwise\\.so")
  message(FATAL_ERROR "the program loads ${CMAKE_MATCH_0}:\n${found}")
endif()
