// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#pragma once

#include <string>

#include "stilling/terms/reading_rule.hpp"

// What a rule about readings asks for, in words made of its numbers.

namespace stilling::command {

/// "3 readings of stack_temp, 15 min apart: the lowest and the highest differ by at most 5 degF".
[[nodiscard]] std::string in_words(const reading_rule& r, channel_set required);

}  // namespace stilling::command
