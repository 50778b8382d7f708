# Run by cpack when the packages are made: what Debian asks of a package and CPack does not do. Each
# package is unpacked, completed and packed again.
cmake_policy(VERSION 3.25)

# finish_done(command...): runs a command that must succeed
function(finish_done)
  execute_process(COMMAND ${ARGN} OUTPUT_QUIET COMMAND_ERROR_IS_FATAL ANY)
endfunction()

# finish_field(OUT PACKAGE FIELD)
function(finish_field out package field)
  execute_process(COMMAND dpkg-deb -f "${package}" "${field}" OUTPUT_VARIABLE value
    OUTPUT_STRIP_TRAILING_WHITESPACE COMMAND_ERROR_IS_FATAL ANY)
  set(${out} "${value}" PARENT_SCOPE)
endfunction()

# The version from which each symbol is there. The map marks each with a node of its own; C programs
# are promised theirs, one by one, and dpkg-gensymbols fails when one of them is gone.
function(finish_symbols tree name version library)
  get_filename_component(file "${library}" NAME)
  string(REGEX MATCH "^(.*\\.so\\.[0-9]+\\.[0-9]+)" soname "${file}")
  string(REGEX REPLACE ".*\\.so\\." "" abi "${soname}")
  set(node "LEASTWISE_${abi}")
  if(file MATCHES "-core")
    set(node "LEASTWISE_CORE_${abi}")
  endif()
  set(text "${soname} ${name} #MINVER#\n* Build-Depends-Package: libleastwise-dev\n")
  string(APPEND text " (symver)${node} ${version}\n")
  file(STRINGS "${CPACK_LEASTWISE_SOURCE}/lib/exports_c.txt" promised)
  foreach(line IN LISTS promised)
    string(REPLACE " " "@${node} " line "${line}")
    string(APPEND text " ${line}\n")
  endforeach()
  file(WRITE "${tree}.symbols" "${text}")
  finish_done(dpkg-gensymbols "-p${name}" "-v${version}" "-e${library}" "-I${tree}.symbols"
    "-O${tree}/DEBIAN/symbols" -c4 -q)
endfunction()

# The loader is told of a library by a trigger, not by a script.
function(finish_library tree name version)
  file(REMOVE "${tree}/DEBIAN/postinst" "${tree}/DEBIAN/postrm")
  file(WRITE "${tree}/DEBIAN/triggers" "activate-noawait ldconfig\n")
  file(GLOB_RECURSE libraries "${tree}/usr/lib/*.so.*.*.*")
  foreach(library IN LISTS libraries)
    finish_symbols("${tree}" "${name}" "${version}" "${library}")
  endforeach()
endfunction()

function(finish_documents tree name version)
  string(TIMESTAMP day "%a, %d %b %Y %H:%M:%S +0000" UTC)
  set(changes "${tree}/usr/share/doc/${name}/changelog.Debian")
  file(WRITE "${changes}" "leastwise (${version}) unstable; urgency=medium

  * Release ${CPACK_PACKAGE_VERSION}; CHANGELOG.md in the source says what changed.

 -- ${CPACK_PACKAGE_CONTACT}  ${day}
")
  file(GLOB pages "${tree}/usr/share/man/man1/*.1")
  finish_done(gzip -9nf "${changes}" ${pages})
  file(MAKE_DIRECTORY "${tree}/usr/share/lintian/overrides")
  file(COPY_FILE "${CPACK_LEASTWISE_SOURCE}/cmake/packaging/debian/lintian-overrides"
    "${tree}/usr/share/lintian/overrides/${name}")
endfunction()

# Side by side for several architectures; what runs or is read serves them all.
function(finish_control tree section)
  if(section MATCHES "^lib")
    set(kind same)
  elseif(section STREQUAL "science")
    set(kind foreign)
  else()
    return()
  endif()
  file(READ "${tree}/DEBIAN/control" control)
  string(REGEX REPLACE "(Architecture: [^\n]*\n)(Multi-Arch: [^\n]*\n)?"
    "\\1Multi-Arch: ${kind}\n" control "${control}")
  file(WRITE "${tree}/DEBIAN/control" "${control}")
endfunction()

function(finish_sums tree)
  file(GLOB_RECURSE files RELATIVE "${tree}" "${tree}/usr/*")
  set(sums)
  foreach(file IN LISTS files)
    if(NOT IS_SYMLINK "${tree}/${file}")
      file(MD5 "${tree}/${file}" sum)
      string(APPEND sums "${sum}  ${file}\n")
    endif()
  endforeach()
  file(WRITE "${tree}/DEBIAN/md5sums" "${sums}")
endfunction()

foreach(package IN LISTS CPACK_PACKAGE_FILES)
  foreach(field Package Version Section)
    finish_field(${field} "${package}" ${field})
  endforeach()
  set(tree "${package}.tree")
  file(REMOVE_RECURSE "${tree}")
  finish_done(dpkg-deb -R "${package}" "${tree}")
  if(Section STREQUAL "libs")
    finish_library("${tree}" "${Package}" "${CPACK_PACKAGE_VERSION}")
  endif()
  finish_documents("${tree}" "${Package}" "${Version}")
  finish_control("${tree}" "${Section}")
  finish_done(chmod -R u=rwX,go=rX "${tree}")
  finish_sums("${tree}")
  finish_done(dpkg-deb --root-owner-group -b "${tree}" "${package}")
  file(REMOVE_RECURSE "${tree}")
endforeach()
