# SPDX-FileCopyrightText: the stilling authors
# SPDX-License-Identifier: MIT

# cmake -DBUILD=<build tree> -DPREFIX=<folder> -P install.cmake: installs into an empty folder.
file(REMOVE_RECURSE "${PREFIX}")
execute_process(COMMAND "${CMAKE_COMMAND}" --install "${BUILD}" --prefix "${PREFIX}"
                COMMAND_ERROR_IS_FATAL ANY OUTPUT_QUIET)
