// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#pragma once

#include <CLI/App.hpp>
#include <string>

#include "options.hpp"

// --finished: the whole log is known before anything is said of it.

namespace stilling::command {

void offer_hindsight(CLI::App& to, settle_request& r);
/// Why these options make no sense together; empty: they do. In hindsight a log has an end, and
/// nothing is to come.
[[nodiscard]] std::string settle_in_hindsight(const settle_request& r);

}  // namespace stilling::command
