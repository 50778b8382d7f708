# The shared library without its symbols for debuggers must stay below LIMIT bytes.
#   cmake -DSTRIP=strip -DLIBRARY=libleastwise.so -DOUTPUT=copy -DLIMIT=3145728 -P stripped_size.cmake
execute_process(COMMAND "${STRIP}" --strip-unneeded -o "${OUTPUT}" "${LIBRARY}"
  COMMAND_ERROR_IS_FATAL ANY)
file(SIZE "${OUTPUT}" size)
message(STATUS "${size} bytes")
if(size GREATER LIMIT)
  message(FATAL_ERROR "more than ${LIMIT} bytes")
endif()
