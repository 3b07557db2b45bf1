# The web page: one folder `site` of files named by their content, and the one-file variant that opens
# from disk. Nothing is loaded from elsewhere.
include(imgui.cmake)
file(GLOB sources CONFIGURE_DEPENDS entry/*.cpp touch/*.cpp drawing/*.cpp jobs/*.cpp screens/*.cpp web/*.cpp)
set(sources ${sources} text_number.cpp place_words.cpp display_text.cpp)

function(add_page name)
  add_executable(${name} ${sources} ${font_source} ${imgui_dir}/backends/imgui_impl_opengl3.cpp)
  target_link_libraries(${name} PRIVATE checks imgui)
  target_include_directories(${name} SYSTEM PRIVATE ${imgui_dir}/backends)
  set_source_files_properties(${imgui_dir}/backends/imgui_impl_opengl3.cpp PROPERTIES COMPILE_OPTIONS -w)
  target_link_options(${name} PRIVATE -O2 -fwasm-exceptions -sMIN_WEBGL_VERSION=2 -sMAX_WEBGL_VERSION=2
    -sALLOW_MEMORY_GROWTH=1 -sENVIRONMENT=web -sMODULARIZE=1 -sEXPORT_NAME=LevelrunModule
    -sDYNAMIC_EXECUTION=0 -sTOTAL_STACK=1048576 -sFILESYSTEM=0
    -sEXPORTED_FUNCTIONS=_malloc,_free
    -sEXPORTED_RUNTIME_METHODS=ccall,UTF8ToString,stringToUTF8,lengthBytesUTF8 ${ARGN})
endfunction()
add_page(levelrun_web)
add_page(levelrun_one_file -sSINGLE_FILE=1)
