# Dear ImGui from its source, and our two faces of DejaVu Sans Condensed, cut down to what we write.
set(LEVELRUN_IMGUI_DIR "" CACHE PATH "Folder with the source of Dear ImGui 1.90.1; empty: fetched once")
set(imgui_dir ${LEVELRUN_IMGUI_DIR})
if(NOT imgui_dir)
  set(imgui_dir ${CMAKE_BINARY_DIR}/imgui-1.90.1)
  execute_process(COMMAND sh ${CMAKE_CURRENT_SOURCE_DIR}/fetch_imgui.sh ${imgui_dir}
                  RESULT_VARIABLE failed)
  if(failed)
    message(FATAL_ERROR "Dear ImGui was not fetched; give its source with -DLEVELRUN_IMGUI_DIR=")
  endif()
endif()

add_library(imgui STATIC ${imgui_dir}/imgui.cpp ${imgui_dir}/imgui_draw.cpp
            ${imgui_dir}/imgui_tables.cpp ${imgui_dir}/imgui_widgets.cpp)
target_include_directories(imgui SYSTEM PUBLIC ${imgui_dir})
target_compile_definitions(imgui PUBLIC IMGUI_DISABLE_DEMO_WINDOWS IMGUI_DISABLE_OBSOLETE_FUNCTIONS)
target_compile_options(imgui PRIVATE -w)

# The faces as byte arrays in a generated source.
find_program(PYFTSUBSET pyftsubset REQUIRED)
set(LEVELRUN_FONTS /usr/share/fonts/truetype/dejavu CACHE PATH "Folder of DejaVuSansCondensed.ttf")
set(letters U+0020-007E,U+00A0-017F,U+2010-2026,U+2030,U+2032-2033,U+20AC,U+2190-2193,U+2212,U+2248,U+2264-2265,U+00D7,U+221A,U+2153-215E,U+2022,U+25A0,U+25CB,U+25CF)
set(faces "")
foreach(face DejaVuSansCondensed DejaVuSansCondensed-Bold)
  set(cut ${CMAKE_CURRENT_BINARY_DIR}/${face}.ttf)
  add_custom_command(OUTPUT ${cut}
    COMMAND ${PYFTSUBSET} ${LEVELRUN_FONTS}/${face}.ttf --unicodes=${letters} --layout-features=
            --no-hinting --name-IDs=0,1,2,13 --output-file=${cut}
    DEPENDS ${LEVELRUN_FONTS}/${face}.ttf VERBATIM)
  list(APPEND faces ${cut})
endforeach()
set(font_source ${CMAKE_CURRENT_BINARY_DIR}/faces.cpp)
add_custom_command(OUTPUT ${font_source}
  COMMAND ${CMAKE_COMMAND} -DOUT=${font_source} "-DFACES=${faces}"
          -P ${CMAKE_CURRENT_SOURCE_DIR}/embed_faces.cmake
  DEPENDS ${faces} ${CMAKE_CURRENT_SOURCE_DIR}/embed_faces.cmake VERBATIM)
