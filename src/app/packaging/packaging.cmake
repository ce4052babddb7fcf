# SPDX-License-Identifier: Apache-2.0
# 'cmake --install' puts the program where desktops find it too; 'cpack' in the build folder makes
# a Debian package with what its libraries need.
include(GNUInstallDirs)
set(CMAKE_INSTALL_DOCDIR ${CMAKE_INSTALL_DATADIR}/doc/lidwright)
install(FILES ${CMAKE_CURRENT_LIST_DIR}/lidwright.desktop
        DESTINATION ${CMAKE_INSTALL_DATADIR}/applications)
install(FILES ${CMAKE_CURRENT_LIST_DIR}/lidwright.svg
        DESTINATION ${CMAKE_INSTALL_DATADIR}/icons/hicolor/scalable/apps)
install(FILES ${CMAKE_CURRENT_LIST_DIR}/copyright DESTINATION ${CMAKE_INSTALL_DOCDIR})
# The project's changelog, and the package's own in the form that Debian's tools read.
find_program(GZIP gzip)
if(GZIP)
  set(packed)
  foreach(text IN ITEMS ${CMAKE_SOURCE_DIR}/CHANGELOG.md ${CMAKE_CURRENT_LIST_DIR}/changelog)
    get_filename_component(name ${text} NAME)
    add_custom_command(OUTPUT ${CMAKE_BINARY_DIR}/${name}.gz
                       COMMAND ${GZIP} -9nc ${text} > ${CMAKE_BINARY_DIR}/${name}.gz
                       DEPENDS ${text} VERBATIM)
    list(APPEND packed ${CMAKE_BINARY_DIR}/${name}.gz)
  endforeach()
  add_custom_target(changelog ALL DEPENDS ${packed})
  install(FILES ${packed} DESTINATION ${CMAKE_INSTALL_DOCDIR})
endif()

set(CPACK_GENERATOR DEB)
# Who builds a package to give away puts an address of their own.
set(LIDWRIGHT_CONTACT "lidwright contributors <lidwright@example.org>"
    CACHE STRING "Who maintains the Debian package")
set(CPACK_PACKAGE_CONTACT ${LIDWRIGHT_CONTACT})
set(CPACK_PACKAGE_DESCRIPTION_SUMMARY "hidden four-bar hinges for boxes with domed lids")
set(CPACK_DEBIAN_PACKAGE_DESCRIPTION
    "Finds where the pivots of a hidden hinge go, proves that lid and arms clear
at every angle, and draws what the bench needs: cut files, full-size
templates, an assembly jig, a parts list and a report.")
set(CPACK_DEBIAN_PACKAGE_SECTION graphics)
set(CPACK_DEBIAN_PACKAGE_DEPENDS fonts-dejavu-core)
set(CPACK_DEBIAN_PACKAGE_RECOMMENDS xdg-utils)
set(CPACK_DEBIAN_PACKAGE_SHLIBDEPS ON)
set(CPACK_DEBIAN_FILE_NAME DEB-DEFAULT)
set(CPACK_PACKAGING_INSTALL_PREFIX /usr)
set(CPACK_STRIP_FILES ON)
include(CPack)
