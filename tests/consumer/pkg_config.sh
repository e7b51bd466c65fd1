#!/usr/bin/env bash
# SPDX-FileCopyrightText: the stilling authors
# SPDX-License-Identifier: MIT
# pkg_config.sh COMPILER PREFIX PROGRAM: builds the consumer with what pkg-config says, and runs it.
set -euo pipefail
compiler=$1 prefix=$2 program=$3
PKG_CONFIG_PATH=$(dirname "$(find "$prefix" -name stilling.pc)")
export PKG_CONFIG_PATH
read -ra flags <<<"$(pkg-config --cflags --libs stilling) ${CXXFLAGS:-}"
"$compiler" -std=c++20 "$(dirname "$0")/consumer.cpp" "${flags[@]}" -o "$program"
"$program"
