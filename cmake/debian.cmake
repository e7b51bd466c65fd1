# SPDX-FileCopyrightText: the stilling authors
# SPDX-License-Identifier: MIT

# Two Debian packages by `cpack`: libstilling-dev (headers, archive, what find_package and
# pkg-config read) and stilling (the command, its manual pages, what bash completes).
install(FILES LICENSE DESTINATION "${CMAKE_INSTALL_DATADIR}/doc/libstilling-dev" RENAME copyright
        COMPONENT library)
install(FILES LICENSE DESTINATION "${CMAKE_INSTALL_DATADIR}/doc/stilling" RENAME copyright
        COMPONENT command)
install(FILES README.md DESTINATION "${CMAKE_INSTALL_DATADIR}/doc/stilling" COMPONENT command)

set(CPACK_GENERATOR DEB)
set(CPACK_PACKAGE_VENDOR "the stilling authors")
set(CPACK_PACKAGE_CONTACT "the stilling authors <authors@stilling.invalid>")
set(CPACK_PACKAGE_DESCRIPTION_SUMMARY "${PROJECT_DESCRIPTION}")
set(CPACK_PACKAGING_INSTALL_PREFIX /usr)
set(CPACK_STRIP_FILES ON)
set(CPACK_COMPONENTS_ALL library command)
set(CPACK_COMPONENTS_GROUPING IGNORE)
set(CPACK_DEB_COMPONENT_INSTALL ON)
set(CPACK_DEBIAN_FILE_NAME DEB-DEFAULT)
set(CPACK_DEBIAN_LIBRARY_PACKAGE_NAME libstilling-dev)
set(CPACK_DEBIAN_LIBRARY_PACKAGE_SECTION libdevel)
set(CPACK_DEBIAN_LIBRARY_PACKAGE_SHLIBDEPS ON)  # the C face is a shared library
set(CPACK_DEBIAN_LIBRARY_PACKAGE_DEPENDS "libfast-float-dev, libfmt-dev")
set(CPACK_DEBIAN_COMMAND_PACKAGE_NAME stilling)
set(CPACK_DEBIAN_COMMAND_PACKAGE_SECTION science)
set(CPACK_DEBIAN_COMMAND_PACKAGE_SHLIBDEPS ON)
set(CPACK_DEBIAN_COMMAND_PACKAGE_DEPENDS "tzdata")
set(CPACK_DEBIAN_COMMAND_PACKAGE_SUGGESTS "bash-completion, man-db")
set(CPACK_COMPONENT_LIBRARY_DESCRIPTION
"Headers and archive of the library: steadiness of a burner test's readings.
No heap, exceptions or clock while running; for CMake and pkg-config.")
set(CPACK_COMPONENT_COMMAND_DESCRIPTION
"The stilling command: settled readings from logs and live streams.
Carbon monoxide poisons and hot flue gas burns: the maker's instructions,
local codes and licensed practice come first.")
include(CPack)
