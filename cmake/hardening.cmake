# What Debian hardens its programs with, for our own targets: canaries on the stack, checked copies,
# control-flow protection where the processor has it, and tables that are read-only once loaded.
include(CheckCXXCompilerFlag)

add_compile_options(-fstack-protector-strong
  $<$<CONFIG:Release,RelWithDebInfo,MinSizeRel>:-D_FORTIFY_SOURCE=2>)
check_cxx_compiler_flag(-fcf-protection LEASTWISE_HAS_CF_PROTECTION)
if(LEASTWISE_HAS_CF_PROTECTION)
  add_compile_options(-fcf-protection)
endif()
add_link_options(LINKER:-z,relro LINKER:-z,now)
