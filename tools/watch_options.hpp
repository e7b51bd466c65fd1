// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#pragma once

#include <CLI/App.hpp>
#include <string>

#include "log_words.hpp"
#include "options.hpp"

// The options of `stilling watch`.

namespace stilling::command {

void add_watch(CLI::App& to, watch_request& r, log_words& log);
/// Why these make no sense together; empty: they do.
[[nodiscard]] std::string settle_watch(watch_request& r, const CLI::App& said);

}  // namespace stilling::command
