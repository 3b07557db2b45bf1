# What `cmake --install` puts where, and the Debian package made of it (cpack, in the build
# folder; wants the programs `file` and `dpkg-shlibdeps` to find out what it depends on).
include(GNUInstallDirs)
set(doc_folder ${CMAKE_INSTALL_DATADIR}/doc/levelrun)

# Debian has its manual pages and changes compressed, without a time inside.
find_program(GZIP_PROGRAM gzip)
set(manual ${CMAKE_CURRENT_SOURCE_DIR}/levelrun.1)
if(GZIP_PROGRAM)
  set(manual ${CMAKE_CURRENT_BINARY_DIR}/levelrun.1.gz)
  add_custom_command(OUTPUT ${manual} DEPENDS levelrun.1
                     COMMAND ${GZIP_PROGRAM} -9nc ${CMAKE_CURRENT_SOURCE_DIR}/levelrun.1 > ${manual})
  add_custom_target(manual_page ALL DEPENDS ${manual})
  # Whoever builds the program alone can install it.
  add_dependencies(levelrun manual_page)
endif()

install(TARGETS levelrun)
install(FILES ${manual} DESTINATION ${CMAKE_INSTALL_MANDIR}/man1)
install(FILES levelrun.bash RENAME levelrun
        DESTINATION ${CMAKE_INSTALL_DATADIR}/bash-completion/completions)
set(desktop ${PROJECT_SOURCE_DIR}/assets/desktop)
install(FILES ${desktop}/invalid.levelrun.Levelrun.desktop DESTINATION ${CMAKE_INSTALL_DATADIR}/applications)
install(FILES ${desktop}/invalid.levelrun.Levelrun.metainfo.xml DESTINATION ${CMAKE_INSTALL_DATADIR}/metainfo)
install(FILES ${desktop}/levelrun.mime.xml DESTINATION ${CMAKE_INSTALL_DATADIR}/mime/packages)
install(FILES ${desktop}/levelrun.svg
        DESTINATION ${CMAKE_INSTALL_DATADIR}/icons/hicolor/scalable/apps)
install(FILES copyright DESTINATION ${doc_folder})
install(DIRECTORY ${PROJECT_SOURCE_DIR}/sample-surveys DESTINATION ${doc_folder})

set(CPACK_GENERATOR DEB)
set(CPACK_PACKAGE_NAME levelrun)
set(CPACK_PACKAGE_VENDOR "Levelrun")
set(CPACK_PACKAGE_CONTACT "Levelrun maintainers <maintainers@levelrun.invalid>")
set(CPACK_PACKAGE_DESCRIPTION_SUMMARY "survey, levels, legs and plinths for fitted furniture")
set(CPACK_PACKAGE_DESCRIPTION
    "Levelrun reads what was measured in a room and works out the height of every
leg, the cut of every plinth and what bars manufacture, each with its
uncertainty and the sum that it comes from.")
set(CPACK_PACKAGING_INSTALL_PREFIX /usr)
set(CPACK_STRIP_FILES ON)
set(CPACK_DEBIAN_FILE_NAME DEB-DEFAULT)
set(CPACK_DEBIAN_PACKAGE_MAINTAINER ${CPACK_PACKAGE_CONTACT})
set(CPACK_DEBIAN_PACKAGE_SECTION utils)
set(CPACK_DEBIAN_PACKAGE_CONTROL_STRICT_PERMISSION ON)
find_program(FILE_PROGRAM file)
find_program(SHLIBDEPS_PROGRAM dpkg-shlibdeps)
if(FILE_PROGRAM AND SHLIBDEPS_PROGRAM)
  set(CPACK_DEBIAN_PACKAGE_SHLIBDEPS ON)
else()
  set(CPACK_DEBIAN_PACKAGE_DEPENDS "libc6, libstdc++6, libgcc-s1")
endif()
include(CPack)
