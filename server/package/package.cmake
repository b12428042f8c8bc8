# `cmake --install` and the Debian package (`cpack` in the build folder) of the shed's server.
include(GNUInstallDirs)
install(TARGETS swardwalk-server RUNTIME DESTINATION ${CMAKE_INSTALL_BINDIR})
install(FILES ${CMAKE_CURRENT_LIST_DIR}/swardwalk-shed.service DESTINATION lib/systemd/system)
set(documents ${CMAKE_INSTALL_DATAROOTDIR}/doc/swardwalk-server)
install(FILES ${CMAKE_CURRENT_LIST_DIR}/shed.toml ${PROJECT_SOURCE_DIR}/README.md
        DESTINATION ${documents})
install(FILES ${PROJECT_SOURCE_DIR}/LICENSE DESTINATION ${documents} RENAME copyright)

set(CPACK_GENERATOR DEB)
set(CPACK_PACKAGE_NAME swardwalk-server)
set(CPACK_PACKAGE_VENDOR Swardwalk)
set(CPACK_PACKAGE_CONTACT "The Swardwalk project <swardwalk@example.invalid>")
set(CPACK_PACKAGE_DESCRIPTION_SUMMARY "Shed server for records of young and recovering greens")
set(CPACK_PACKAGE_DESCRIPTION "Takes what tablets saw of a course's putting greens, keeps it in a signed journal,
and shows what closes by itself and what to mend.")
set(CPACK_PACKAGING_INSTALL_PREFIX /usr)
set(CPACK_DEBIAN_FILE_NAME DEB-DEFAULT)
set(CPACK_DEBIAN_PACKAGE_SECTION misc)
set(CPACK_DEBIAN_PACKAGE_SHLIBDEPS ON)
set(CPACK_DEBIAN_PACKAGE_DEPENDS "adduser, tzdata")
set(CPACK_STRIP_FILES ON)
set(CPACK_DEBIAN_PACKAGE_CONTROL_EXTRA
  ${CMAKE_CURRENT_LIST_DIR}/postinst ${CMAKE_CURRENT_LIST_DIR}/prerm
  ${CMAKE_CURRENT_LIST_DIR}/postrm)
include(CPack)
