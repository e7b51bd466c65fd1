// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#pragma once

#include <CLI/App.hpp>
#include <string>

// A manual page from what `--help` shows: the same options, in the same words.

namespace stilling::command {

/// "stilling" for the command, "stilling-settle" for a verb.
[[nodiscard]] std::string page_name(const CLI::App& of);
/// In the man macros, for section 1.
[[nodiscard]] std::string manual_page(const CLI::App& of);

}  // namespace stilling::command
