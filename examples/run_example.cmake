# Runs COMMAND in FOLDER and compares what it leaves with EXPECTED (standard output), EXPECTED_ERRORS
# (standard error) and EXIT_CODE; a stream without such a file must stay empty.
execute_process(COMMAND ${COMMAND} WORKING_DIRECTORY ${FOLDER}
  OUTPUT_VARIABLE out ERROR_VARIABLE err RESULT_VARIABLE code)

function(compare printed expected stream)
  if("${expected}" STREQUAL "")
    if(NOT printed STREQUAL "")
      message(FATAL_ERROR "${stream} should be empty, but holds:\n${printed}")
    endif()
    return()
  endif()
  if(DEFINED ENV{LEASTWISE_UPDATE_EXPECTED} AND NOT "$ENV{LEASTWISE_UPDATE_EXPECTED}" STREQUAL "")
    if("$ENV{CI}" STREQUAL "true")
      message(FATAL_ERROR
        "LEASTWISE_UPDATE_EXPECTED is refused where CI=true: nobody would read the difference")
    endif()
    file(WRITE ${expected} "${printed}")
    message(STATUS "updated ${expected}")
    return()
  endif()
  if(NOT EXISTS ${expected})
    message(FATAL_ERROR "${expected} does not exist; set LEASTWISE_UPDATE_EXPECTED=1 to write it")
  endif()
  file(READ ${expected} wanted)
  if(NOT printed STREQUAL wanted)
    message(FATAL_ERROR
      "${stream} differs from ${expected}\n--- expected\n${wanted}\n--- printed\n${printed}")
  endif()
endfunction()

if(NOT code STREQUAL EXIT_CODE)
  message(FATAL_ERROR "exit code ${code}, expected ${EXIT_CODE}\n${out}${err}")
endif()
compare("${err}" "${EXPECTED_ERRORS}" "standard error")
compare("${out}" "${EXPECTED}" "standard output")
