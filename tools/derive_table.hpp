// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#pragma once

#include <string>

#include "options.hpp"

// A table of figures over a range of readings, for people who work with paper.

namespace stilling::command {

/// As derive() takes them: the gauge's zero taken off, the instrument's error put in.
[[nodiscard]] lanes<estimate> readings_of(const derive_request& r, lanes<estimate> in);

/// Units that were not typed follow from those that were; --show stands in place of both.
void choose_units(derive_request& r);

/// One range: a row each, with all that follows. Two: one figure, rows by the first gas.
[[nodiscard]] std::string table_of(const derive_request& r);

}  // namespace stilling::command
