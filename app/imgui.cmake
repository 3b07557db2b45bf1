# Dear ImGui from its source. Debian 12 packages an older one that loses a tap within one frame, so
# Debian 13's is taken.
set(LEVELRUN_IMGUI_DIR "" CACHE PATH "Folder with the source of Dear ImGui 1.90.1; empty: fetched once")
set(imgui_dir ${LEVELRUN_IMGUI_DIR})
if(NOT imgui_dir)
  set(imgui_dir ${CMAKE_BINARY_DIR}/imgui-1.90.1)
  execute_process(COMMAND sh ${CMAKE_CURRENT_SOURCE_DIR}/fetch_source.sh ${imgui_dir} trixie imgui 1.90.1+ds-1
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
