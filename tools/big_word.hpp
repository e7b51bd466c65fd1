// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#pragma once

#include <cstddef>
#include <string>
#include <string_view>
#include <vector>

// A word that is read from two metres: letters of five rows of dots, two dots to a cell of the
// terminal, one above the other.

namespace stilling::command {

/// The word in lines of equal width; empty where a letter is missing (A to Z and blanks are there).
/// `scale` 2: twice as large. Without UTF-8 a dot takes a cell of its own.
[[nodiscard]] std::vector<std::string> big_word(std::string_view word, std::size_t scale,
                                                bool utf8);

}  // namespace stilling::command
