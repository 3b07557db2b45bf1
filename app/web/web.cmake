# The web page's WebAssembly and its glue; site.py makes the folder and the one file from it. Nothing
# is loaded from elsewhere.
include(imgui.cmake)
include(faces.cmake)
include(web/print.cmake)
file(GLOB sources CONFIGURE_DEPENDS *.cpp entry/*.cpp touch/*.cpp drawing/*.cpp jobs/*.cpp screens/*.cpp
     install_day/*.cpp pack/*.cpp web/*.cpp)
list(REMOVE_ITEM sources ${CMAKE_CURRENT_SOURCE_DIR}/main.cpp)

add_executable(levelrun_web ${sources} ${font_source} ${imgui_dir}/backends/imgui_impl_opengl3.cpp)
target_link_libraries(levelrun_web PRIVATE checks imgui libharu)
target_include_directories(levelrun_web SYSTEM PRIVATE ${imgui_dir}/backends)
set_source_files_properties(${imgui_dir}/backends/imgui_impl_opengl3.cpp PROPERTIES COMPILE_OPTIONS -w)
target_link_options(levelrun_web PRIVATE -Oz -sMIN_WEBGL_VERSION=2 -sMAX_WEBGL_VERSION=2
  -sALLOW_MEMORY_GROWTH=1 -sENVIRONMENT=web -sMODULARIZE=1 -sEXPORT_NAME=LevelrunModule
  -sDYNAMIC_EXECUTION=0 -sTOTAL_STACK=1048576 -sFILESYSTEM=0 -sMALLOC=emmalloc
  -sEXPORTED_FUNCTIONS=_malloc,_free
  -sEXPORTED_RUNTIME_METHODS=ccall,UTF8ToString,stringToUTF8,lengthBytesUTF8)

# Small where it runs once a tap, quick where a kitchen is solved.
foreach(target survey checks imgui libharu levelrun_web)
  target_compile_options(${target} PRIVATE -Oz)
endforeach()

option(LEVELRUN_NODE_TESTS "Build the unit tests and simulated rooms for node" OFF)
if(LEVELRUN_NODE_TESTS)
  include(${PROJECT_SOURCE_DIR}/tests/web/node_tests.cmake)
endif()
