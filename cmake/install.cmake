# SPDX-FileCopyrightText: the stilling authors
# SPDX-License-Identifier: MIT

include(CMakePackageConfigHelpers)
set(package "${CMAKE_INSTALL_LIBDIR}/cmake/stilling")

# Two parts: what is built against (library), and what is run (command).
set(CMAKE_INSTALL_DEFAULT_COMPONENT_NAME library)
install(TARGETS stilling_headers stilling_compiled EXPORT stillingTargets FILE_SET HEADERS)
install(EXPORT stillingTargets NAMESPACE stilling:: DESTINATION "${package}")
configure_package_config_file(cmake/stillingConfig.cmake.in stillingConfig.cmake
                              INSTALL_DESTINATION "${package}")
write_basic_package_version_file(stillingConfigVersion.cmake COMPATIBILITY SameMinorVersion)
install(FILES "${PROJECT_BINARY_DIR}/stillingConfig.cmake"
              "${PROJECT_BINARY_DIR}/stillingConfigVersion.cmake" DESTINATION "${package}")

# The prefix is found from where the .pc file lies, so that a tree may be moved anywhere.
set(pc_folder "${CMAKE_INSTALL_LIBDIR}/pkgconfig")
string(REGEX REPLACE "[^/]+" ".." STILLING_PREFIX_FROM_PC "${pc_folder}")
# Whoever links an archive must link what it needs as well.
set(STILLING_REQUIRES "Requires")
if(BUILD_SHARED_LIBS)
  set(STILLING_REQUIRES "Requires.private")
endif()
configure_file(cmake/stilling.pc.in stilling.pc @ONLY)
install(FILES "${PROJECT_BINARY_DIR}/stilling.pc" DESTINATION "${pc_folder}")

if(TARGET stilling_c)
  install(TARGETS stilling_c EXPORT stillingTargets FILE_SET HEADERS)
  configure_file(cmake/stilling-c.pc.in stilling-c.pc @ONLY)
  install(FILES "${PROJECT_BINARY_DIR}/stilling-c.pc" DESTINATION "${pc_folder}")
endif()
if(TARGET stilling_command)
  set(CMAKE_INSTALL_DEFAULT_COMPONENT_NAME command)
  install(TARGETS stilling_command)
  install(DIRECTORY "${STILLING_MANUALS}/" DESTINATION "${CMAKE_INSTALL_MANDIR}/man1"
          FILES_MATCHING PATTERN "*.1")
  install(FILES "${STILLING_MANUALS}/stilling.bash" RENAME stilling
          DESTINATION "${CMAKE_INSTALL_DATADIR}/bash-completion/completions")
endif()
include("${CMAKE_CURRENT_LIST_DIR}/debian.cmake")
