// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#pragma once

#include <string>

#include "stilling/text.hpp"
#include "stilling/visit/visit.hpp"

// What to do next, as one sentence: inferred from rows, notes and readings alone, in the order in
// which an oil burner is set (common practice). The maker's instructions come first.

namespace stilling::command {

[[nodiscard]] std::string next_step(const visit& test, phase in, const presentation& as);

}  // namespace stilling::command
