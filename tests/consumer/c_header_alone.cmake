# A public C header includes the standard library and its neighbours only, names none of the
# libraries we are made of, and compiles by itself as C99 and as C++.
#   cmake -DC_COMPILER=cc -DCXX_COMPILER=c++ -DINCLUDE_DIR=lib/include -DNAME=leastwise/leastwise.h
#         -P c_header_alone.cmake
file(STRINGS "${INCLUDE_DIR}/${NAME}" includes REGEX "^ *# *include")
foreach(line IN LISTS includes)
  if(NOT line MATCHES "^#include <(leastwise/[a-z_/]+\\.h|stddef\\.h)>$")
    message(FATAL_ERROR "${NAME} includes what is neither standard nor ours: ${line}")
  endif()
endforeach()
file(READ "${INCLUDE_DIR}/${NAME}" text)
string(TOLOWER "${text}" text)
if(text MATCHES "(^|[^a-z0-9])(clp|coin|coinutils|yaml-cpp|fmt|nlohmann|boost)([^a-z0-9]|$)")
  message(FATAL_ERROR "${NAME} mentions '${CMAKE_MATCH_2}'")
endif()
# A header of macros alone leaves nothing for C to translate.
string(MD5 alone "${NAME}")
file(WRITE "${CMAKE_CURRENT_BINARY_DIR}/${alone}.c" "typedef int header_alone;\n")
set(warnings -Wall -Wextra -Wpedantic -Wshadow -Wconversion -Werror -fsyntax-only)
foreach(compiler IN ITEMS "${C_COMPILER};-std=c99;-x;c" "${CXX_COMPILER};-std=c++20;-x;c++")
  execute_process(
    COMMAND ${compiler} ${warnings} "-I${INCLUDE_DIR}" -include "${NAME}"
      "${CMAKE_CURRENT_BINARY_DIR}/${alone}.c"
    RESULT_VARIABLE failed ERROR_VARIABLE errors)
  if(failed)
    message(FATAL_ERROR "${NAME} does not compile alone:\n${errors}")
  endif()
endforeach()
