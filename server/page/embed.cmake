# Builds the review page's files into the program. The files refer to each other by
# relative names below one folder whose name is a digest over all of them, so that
# browsers may keep them for ever and an old page never meets new files.
set(page ${CMAKE_CURRENT_LIST_DIR})
find_file(LEAFLET_JS leaflet.min.js PATHS /usr/share/javascript/leaflet REQUIRED NO_DEFAULT_PATH)
find_file(LEAFLET_CSS leaflet.css PATHS /usr/share/javascript/leaflet REQUIRED NO_DEFAULT_PATH)
find_file(B612_REGULAR B612-Regular.otf PATHS /usr/share/fonts/opentype/b612 REQUIRED
          NO_DEFAULT_PATH)
find_file(B612_BOLD B612-Bold.otf PATHS /usr/share/fonts/opentype/b612 REQUIRED NO_DEFAULT_PATH)

# name|type|file
set(page_files
  "leaflet.js|text/javascript|${LEAFLET_JS}"
  "leaflet.css|text/css|${LEAFLET_CSS}"
  "B612-Regular.otf|font/otf|${B612_REGULAR}"
  "B612-Bold.otf|font/otf|${B612_BOLD}"
  "icon.svg|image/svg+xml|${page}/icon.svg"
  "style.css|text/css|${page}/style.css"
  "plan.css|text/css|${page}/plan.css")
foreach(script app choose door elements symbols overview green plan repairs send)
  list(APPEND page_files "${script}.js|text/javascript|${page}/${script}.js")
endforeach()

set(digests)
foreach(entry ${page_files})
  string(REPLACE "|" ";" parts "${entry}")
  list(GET parts 2 file)
  file(SHA256 ${file} digest)
  string(APPEND digests ${digest})
  set_property(DIRECTORY APPEND PROPERTY CMAKE_CONFIGURE_DEPENDS ${file})
endforeach()
string(SHA256 digest "${digests}")
string(SUBSTRING ${digest} 0 16 SWARDWALK_ASSETS)
set(generated ${CMAKE_CURRENT_BINARY_DIR}/page)
configure_file(${page}/index.html.in ${generated}/index.html @ONLY)
list(PREPEND page_files "index.html|text/html|${generated}/index.html")

# The assembler takes files as they are; as C++ literals they would cost minutes.
enable_language(ASM)
set(assembly ".section .rodata\n")
set(declarations)
set(table)
set(count 0)
set(depends)
foreach(entry ${page_files})
  string(REPLACE "|" ";" parts "${entry}")
  list(GET parts 0 name)
  list(GET parts 1 type)
  list(GET parts 2 file)
  list(APPEND depends ${file})
  set(symbol swardwalk_page_${count})
  string(APPEND assembly
    ".global ${symbol}\n${symbol}:\n.incbin \"${file}\"\n.global ${symbol}_end\n${symbol}_end:\n.byte 0\n")
  string(APPEND declarations "extern \"C\" const char ${symbol}[], ${symbol}_end[];\n")
  string(APPEND table
    "    {\"${name}\", \"${type}\",\n     std::string_view(${symbol}, ${symbol}_end - ${symbol})},\n")
  math(EXPR count "${count} + 1")
endforeach()
string(APPEND assembly ".section .note.GNU-stack,\"\",%progbits\n")
file(CONFIGURE OUTPUT ${generated}/page_bytes.S CONTENT "${assembly}" @ONLY)
set(SWARDWALK_PAGE_DECLARATIONS "${declarations}")
set(SWARDWALK_PAGE_TABLE "${table}")
configure_file(${page}/page_files.cpp.in ${generated}/page_files.cpp @ONLY)
set_source_files_properties(${generated}/page_bytes.S PROPERTIES OBJECT_DEPENDS "${depends}")
set(SWARDWALK_PAGE_SOURCES ${generated}/page_files.cpp ${generated}/page_bytes.S)
