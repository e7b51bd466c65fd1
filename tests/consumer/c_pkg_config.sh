#!/usr/bin/env bash
# SPDX-FileCopyrightText: the stilling authors
# SPDX-License-Identifier: MIT
# c_pkg_config.sh COMPILER PREFIX PROGRAM: the test of the C face against the installed library.
set -euo pipefail
compiler=$1 prefix=$2 program=$3
PKG_CONFIG_PATH=$(dirname "$(find "$prefix" -name stilling-c.pc)")
export PKG_CONFIG_PATH
read -ra flags <<<"$(pkg-config --cflags --libs stilling-c) ${CXXFLAGS:-}"
"$compiler" -std=c11 "$(dirname "$0")/../c/face_test.c" "${flags[@]}" -lm -o "$program"
LD_LIBRARY_PATH=$(pkg-config --variable=libdir stilling-c) "$program"
