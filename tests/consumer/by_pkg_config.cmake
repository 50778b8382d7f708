# Compiles the consumers with what pkg-config says of an install tree, and runs them.
#   cmake -DPKG_CONFIG=.. -DC_COMPILER=.. -DCXX_COMPILER=.. -DFLAGS=.. -DPREFIX=.. -DKIND=static|shared
#         -DVERSION=.. -DFOLDER=.. -P by_pkg_config.cmake
file(GLOB_RECURSE description "${PREFIX}/*/leastwise.pc")
get_filename_component(folder "${description}" DIRECTORY)
get_filename_component(libraries "${folder}" DIRECTORY)
set(ENV{PKG_CONFIG_PATH} "${folder}")
set(ENV{LD_LIBRARY_PATH} "${libraries}")

# told(OUT arguments...): what pkg-config answers about `library`
function(told out)
  execute_process(COMMAND "${PKG_CONFIG}" ${ARGN} ${library} OUTPUT_VARIABLE answer
    OUTPUT_STRIP_TRAILING_WHITESPACE COMMAND_ERROR_IS_FATAL ANY)
  set(${out} "${answer}" PARENT_SCOPE)
endfunction()

set(library leastwise)
told(version --modversion)
if(NOT version STREQUAL VERSION)
  message(FATAL_ERROR "leastwise.pc is of version '${version}'")
endif()
set(static)
if(KIND STREQUAL "static")
  set(static --static)
endif()
told(words ${static} --cflags --libs)
separate_arguments(words UNIX_COMMAND "${words}")
told(private --print-requires-private)
if(KIND STREQUAL "shared" AND (NOT private STREQUAL "" OR "${words}" MATCHES "-l(Clp|yaml|fmt)"))
  message(FATAL_ERROR "a shared library needs nothing from those who link it: ${private} ${words}")
endif()
separate_arguments(FLAGS UNIX_COMMAND "${FLAGS}")
file(MAKE_DIRECTORY "${FOLDER}")

# built(PROGRAM compiler and sources...)
function(built program)
  execute_process(COMMAND ${ARGN} ${FLAGS} ${words} -o "${FOLDER}/${program}"
    COMMAND_ERROR_IS_FATAL ANY)
  execute_process(COMMAND "${FOLDER}/${program}" OUTPUT_QUIET COMMAND_ERROR_IS_FATAL ANY)
endfunction()
set(here "${CMAKE_CURRENT_LIST_DIR}")
built(c_consumer "${C_COMPILER}" -std=c99 -Wall -Wextra -Wpedantic -Werror "${here}/c_main.c")
built(consumer "${CXX_COMPILER}" -std=c++20 "${here}/main.cpp" "${here}/second_file.cpp")

set(library leastwise-core)
told(words ${static} --cflags --libs)
if("${words}" MATCHES "yaml")
  message(FATAL_ERROR "the library without YAML asks for its reader: ${words}")
endif()
separate_arguments(words UNIX_COMMAND "${words}")
built(core_consumer "${CXX_COMPILER}" -std=c++20 "${here}/core_main.cpp")
