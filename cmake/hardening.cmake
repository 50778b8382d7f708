# What Debian hardens its programs with, for our own targets: canaries on the stack, checked copies,
# control-flow protection where the processor has it, and tables that are read-only once loaded.
leastwise_known_flags(_leastwise_hardening -fstack-protector-strong -fcf-protection)
add_compile_options(${_leastwise_hardening}
  $<$<CONFIG:Release,RelWithDebInfo,MinSizeRel>:-D_FORTIFY_SOURCE=2>)
leastwise_known_link_flag(_leastwise_relro LINKER:-z,relro)
leastwise_known_link_flag(_leastwise_now LINKER:-z,now)
add_link_options(${_leastwise_relro} ${_leastwise_now})
