# A public header includes the standard library and its neighbours only, names none of the libraries
# we are made of, and compiles by itself with no include path but ours.
#   cmake -DCOMPILER=c++ -DINCLUDE_DIR=lib/include -DNAME=limits.hpp -P header_alone.cmake
if(EXISTS "${INCLUDE_DIR}/leastwise/${NAME}")
  set(spelling "leastwise/${NAME}")
else()
  set(spelling "${NAME}")
endif()

file(STRINGS "${INCLUDE_DIR}/${spelling}" includes REGEX "^ *# *include")
foreach(line IN LISTS includes)
  if(NOT line MATCHES "^#include <(leastwise/[a-z_]+\\.h(pp)?|[a-z_]+)>$")
    message(FATAL_ERROR "${NAME} includes what is neither standard nor ours: ${line}")
  endif()
endforeach()

file(READ "${INCLUDE_DIR}/${spelling}" text)
string(TOLOWER "${text}" text)
if(text MATCHES "(^|[^a-z0-9])(clp|coin|coinutils|yaml-cpp|yaml::|fmt|nlohmann|boost|doctest)([^a-z0-9]|$)")
  message(FATAL_ERROR "${NAME} mentions '${CMAKE_MATCH_2}'")
endif()

execute_process(
  COMMAND "${COMPILER}" -std=c++20 -Wall -Wextra -Wpedantic -Wshadow -Wconversion -Werror
          -fsyntax-only "-I${INCLUDE_DIR}" -include "${spelling}" -x c++ /dev/null
  RESULT_VARIABLE failed ERROR_VARIABLE errors)
if(failed)
  message(FATAL_ERROR "${NAME} does not compile alone:\n${errors}")
endif()
