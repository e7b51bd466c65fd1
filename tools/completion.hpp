// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#pragma once

#include <CLI/App.hpp>
#include <string>

// What a shell offers at the Tab key, from what `--help` shows: verbs, options, and the values of
// those that have some.

namespace stilling::command {

/// A script for bash; it needs nothing beside.
[[nodiscard]] std::string bash_completion(const CLI::App& command);

}  // namespace stilling::command
