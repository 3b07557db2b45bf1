# Our two faces of DejaVu Sans Condensed, cut down to what we write, as byte arrays in a generated
# source: for the screen, for the widths of lettering, and embedded in print.
find_program(PYFTSUBSET pyftsubset REQUIRED)
set(LEVELRUN_FONTS /usr/share/fonts/truetype/dejavu CACHE PATH "Folder of DejaVuSansCondensed.ttf")
set(letters U+0020-007E,U+00A0-017F,U+2010-2026,U+2030,U+2032-2033,U+20AC,U+2190-2193,U+2212,U+2248,U+2264-2265,U+00D7,U+221A,U+2153-215E,U+2022,U+25A0-25A1,U+25CB,U+25CF)
set(faces "")
foreach(face DejaVuSansCondensed DejaVuSansCondensed-Bold)
  set(cut ${CMAKE_CURRENT_BINARY_DIR}/${face}.ttf)
  add_custom_command(OUTPUT ${cut}
    COMMAND ${PYFTSUBSET} ${LEVELRUN_FONTS}/${face}.ttf --unicodes=${letters} --layout-features=
            --no-hinting --name-IDs=0,1,2,6,13 --output-file=${cut}
    DEPENDS ${LEVELRUN_FONTS}/${face}.ttf VERBATIM)
  list(APPEND faces ${cut})
endforeach()
set(font_source ${CMAKE_CURRENT_BINARY_DIR}/faces.cpp)
add_custom_command(OUTPUT ${font_source}
  COMMAND ${CMAKE_COMMAND} -DOUT=${font_source} "-DFACES=${faces}"
          -P ${CMAKE_CURRENT_SOURCE_DIR}/embed_faces.cmake
  DEPENDS ${faces} ${CMAKE_CURRENT_SOURCE_DIR}/embed_faces.cmake VERBATIM)
