# leastwise_embed(target files...): an object library that carries the bytes of each file.
#
# `salt_index.csv` becomes `std::string_view leastwise::embedded::salt_index_csv()`, declared in
# lib/src/base/embedded.hpp. Bytes are written as character constants, not as one string, since
# compilers limit the length of a string literal. A changed file is embedded anew by the next build;
# the program reads no file when it runs.
#
# The same file is the script that writes one source:
#   cmake -DINPUT=file -DOUTPUT=file.cpp -DFUNCTION=name -P embed.cmake

if(CMAKE_SCRIPT_MODE_FILE STREQUAL CMAKE_CURRENT_LIST_FILE)
  file(READ "${INPUT}" _hex HEX)
  string(LENGTH "${_hex}" _length)
  math(EXPR _size "${_length} / 2")
  string(REPEAT "." 40 _line)
  string(REGEX REPLACE "(${_line})" "\\1\n    " _hex "${_hex}")
  string(REGEX REPLACE "([0-9a-f][0-9a-f])" "'\\\\x\\1'," _bytes "${_hex}")
  file(WRITE "${OUTPUT}" "// Generated from a data file; do not edit.
#include \"base/embedded.hpp\"

namespace leastwise::embedded {
namespace {
constexpr char bytes[] = {
    ${_bytes}'\\0'};
}  // namespace

std::string_view ${FUNCTION}() { return {bytes, ${_size}}; }

}  // namespace leastwise::embedded
")
  return()
endif()

set(_leastwise_embed_script "${CMAKE_CURRENT_LIST_FILE}")

function(leastwise_embed target)
  set(sources)
  foreach(file IN LISTS ARGN)
    get_filename_component(name "${file}" NAME)
    string(MAKE_C_IDENTIFIER "${name}" function)
    set(source "${CMAKE_CURRENT_BINARY_DIR}/embedded/${name}.cpp")
    add_custom_command(
      OUTPUT "${source}"
      COMMAND "${CMAKE_COMMAND}" "-DINPUT=${file}" "-DOUTPUT=${source}" "-DFUNCTION=${function}"
              -P "${_leastwise_embed_script}"
      DEPENDS "${file}" "${_leastwise_embed_script}"
      COMMENT "Embedding ${name}"
      VERBATIM)
    list(APPEND sources "${source}")
  endforeach()
  add_library(${target} OBJECT ${sources})
  target_compile_features(${target} PRIVATE cxx_std_20)
  target_include_directories(${target} PRIVATE "${PROJECT_SOURCE_DIR}/lib/src")
  target_compile_options(${target} PRIVATE ${_leastwise_flags})
  set_target_properties(${target} PROPERTIES POSITION_INDEPENDENT_CODE ON
    CXX_VISIBILITY_PRESET hidden)
endfunction()
