# The unit tests, and rooms to compare with the desk's, as programs for node: the page's own objects.
set(tests ${PROJECT_SOURCE_DIR}/tests)
file(GLOB unit CONFIGURE_DEPENDS ${tests}/unit/*.cpp)
list(FILTER unit EXCLUDE REGEX "/(file_layer|save)_test")  # of the disk, which a page has not
file(GLOB app CONFIGURE_DEPENDS *.cpp drawing/*.cpp entry/*.cpp pack/*.cpp)
list(REMOVE_ITEM app ${CMAKE_CURRENT_SOURCE_DIR}/main.cpp)
add_executable(unit_tests ${unit} ${app} ${font_source})
target_link_libraries(unit_tests PRIVATE libharu)
target_compile_definitions(unit_tests PRIVATE SAMPLES="${PROJECT_SOURCE_DIR}/sample-surveys")
add_executable(simulated_rooms ${tests}/web/simulated_rooms.cpp)
foreach(program unit_tests simulated_rooms)
  target_link_libraries(${program} PRIVATE checks)
  target_link_options(${program} PRIVATE -sENVIRONMENT=node -sNODERAWFS=1 -sEXIT_RUNTIME=1
    -sALLOW_MEMORY_GROWTH=1 -sTOTAL_STACK=8388608)
endforeach()
