# Warnings for our own targets only; errors are switched on by the presets, never by consumers.
function(leastwise_warnings target)
  target_compile_options(${target} PRIVATE -Wall -Wextra -Wpedantic -Wshadow -Wconversion)
endfunction()
