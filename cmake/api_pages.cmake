# The target `leastwise_api_pages`: the public headers and the guide as pages to browse, written by
# Doxygen to build/.../api/index.html. A warning, such as a declaration without its comment, is an
# error. There is no such target where Doxygen is missing, unless the pages are asked for.
if(LEASTWISE_BUILD_API_PAGES)
  find_package(Doxygen 1.9 REQUIRED)
  set(_leastwise_api_pages_all ALL)
else()
  find_package(Doxygen 1.9 QUIET)
  set(_leastwise_api_pages_all)
endif()
if(NOT DOXYGEN_FOUND)
  return()
endif()

set(DOXYGEN_PROJECT_BRIEF "${PROJECT_DESCRIPTION}")
set(DOXYGEN_OUTPUT_DIRECTORY "${PROJECT_BINARY_DIR}/api")
set(DOXYGEN_HTML_OUTPUT ".")
set(DOXYGEN_FILE_PATTERNS *.h *.hpp *.md)
set(DOXYGEN_USE_MDFILE_AS_MAINPAGE "${PROJECT_SOURCE_DIR}/lib/guide/README.md")
set(DOXYGEN_STRIP_FROM_PATH "${PROJECT_SOURCE_DIR}/lib/include" "${PROJECT_SOURCE_DIR}/lib")
set(DOXYGEN_STRIP_FROM_INC_PATH "${PROJECT_SOURCE_DIR}/lib/include")
# The first sentence stands alone; labels such as `Throws:` begin a line, in bold.
set(DOXYGEN_JAVADOC_AUTOBRIEF YES)
# Doxygen resolves no link to a heading of the same page.
set(DOXYGEN_FILTER_PATTERNS
  "*.md=sed -E -f '${PROJECT_SOURCE_DIR}/cmake/api_links.sed'"
  "*.hpp=sed -E -f '${PROJECT_SOURCE_DIR}/cmake/api_labels.sed'"
  "*.h=sed -E -f '${PROJECT_SOURCE_DIR}/cmake/api_c_comments.sed'")
set(DOXYGEN_MACRO_EXPANSION YES)
set(DOXYGEN_EXPAND_ONLY_PREDEF YES)
set(DOXYGEN_PREDEFINED "LEASTWISE_API=" "LEASTWISE_ANY_VALUE=")  # no reader needs to know them
set(DOXYGEN_SORT_MEMBER_DOCS NO)
set(DOXYGEN_VERBATIM_HEADERS NO)
set(DOXYGEN_HAVE_DOT NO)
set(DOXYGEN_QUIET YES)
set(DOXYGEN_WARN_AS_ERROR FAIL_ON_WARNINGS)
doxygen_add_docs(leastwise_api_pages
  "${PROJECT_SOURCE_DIR}/lib/include/leastwise" "${PROJECT_SOURCE_DIR}/lib/guide"
  ${_leastwise_api_pages_all}
  COMMENT "Writing the API pages")
if(LEASTWISE_BUILD_API_PAGES AND LEASTWISE_INSTALL)
  install(DIRECTORY "${DOXYGEN_OUTPUT_DIRECTORY}/" DESTINATION "${CMAKE_INSTALL_DOCDIR}/api")
endif()
