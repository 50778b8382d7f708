# Flags that not every compiler or linker knows: each is asked about before it is used.
include(CheckCXXCompilerFlag)
include(CheckLinkerFlag)

# leastwise_known_flags(OUT flags...): those that the compiler knows
function(leastwise_known_flags out)
  set(known)
  foreach(flag IN LISTS ARGN)
    string(MAKE_C_IDENTIFIER "LEASTWISE_HAS${flag}" has)
    check_cxx_compiler_flag("${flag}" ${has})
    if(${has})
      list(APPEND known "${flag}")
    endif()
  endforeach()
  set(${out} "${known}" PARENT_SCOPE)
endfunction()

# leastwise_known_link_flag(OUT FLAG): FLAG where the linker knows it, else nothing
function(leastwise_known_link_flag out flag)
  string(MAKE_C_IDENTIFIER "LEASTWISE_LINKS_${flag}" has)
  check_linker_flag(CXX "${flag}" ${has})
  set(${out} "$<$<BOOL:${${has}}>:${flag}>" PARENT_SCOPE)
endfunction()

# A product is rounded before it is added, on processors that could do without too: the digits of an
# answer are the same on all. Sections of their own let a program leave out what it does not use.
leastwise_known_flags(_leastwise_flags -ffp-contract=off -ffunction-sections -fdata-sections)
leastwise_known_flags(_leastwise_fast -O3)
leastwise_known_flags(_leastwise_small -Os)
leastwise_known_flags(_leastwise_warnings -Wall -Wextra -Wpedantic -Wshadow -Wconversion)
leastwise_known_link_flag(_leastwise_thrift LINKER:--gc-sections)

# Warnings for our own targets only; errors are switched on by the presets, never by consumers.
function(leastwise_warnings target)
  target_compile_options(${target} PRIVATE ${_leastwise_warnings})
endfunction()
