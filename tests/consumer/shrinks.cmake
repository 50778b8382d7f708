# A program that was linked with --gc-sections must be smaller than one that was not, both stripped.
#   cmake -DSTRIP=.. -DBEFORE=.. -DAFTER=.. -DFOLDER=.. -DLEAST_PERCENT=10 -P shrinks.cmake
foreach(which BEFORE AFTER)
  execute_process(COMMAND "${STRIP}" -o "${FOLDER}/stripped_${which}" "${${which}}"
    COMMAND_ERROR_IS_FATAL ANY)
  file(SIZE "${FOLDER}/stripped_${which}" size_${which})
endforeach()
math(EXPR percent "100 - 100 * ${size_AFTER} / ${size_BEFORE}")
message(STATUS "${size_BEFORE} bytes, ${size_AFTER} without what is not used: ${percent} % less")
if(percent LESS LEAST_PERCENT)
  message(FATAL_ERROR "expected ${LEAST_PERCENT} % less at least")
endif()
