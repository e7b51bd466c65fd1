// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#pragma once

#include <cstddef>
#include <string>
#include <string_view>
#include <vector>

// Text as a terminal shows it: a grid of cells. A letter takes one, a wide one two, a mark that
// sits on the letter before it none.

namespace stilling::command {

/// A letter and the bytes it takes; what is no letter (a stray byte) is U+FFFD.
struct letter {
  char32_t code = 0;
  std::size_t bytes = 1;
};
/// Of text that is not empty.
[[nodiscard]] letter first_letter(std::string_view text) noexcept;
[[nodiscard]] std::size_t cells_of(char32_t code) noexcept;
[[nodiscard]] std::size_t cells_of(std::string_view text) noexcept;

/// Words from outside as they may stand on a screen: nothing moves the cursor, turns the direction
/// of writing round or hides.
[[nodiscard]] std::string plain_letters(std::string_view text);
/// At most so many cells; the last of them is … where something is missing.
[[nodiscard]] std::string cut_to(std::string_view text, std::size_t cells);
/// The end of it, in at most so many cells.
[[nodiscard]] std::string end_of(std::string_view text, std::size_t cells);
/// Exactly so many cells.
[[nodiscard]] std::string padded(std::string_view text, std::size_t cells);
/// Lines of at most so many cells, broken between words; a longer word is broken where it must be.
/// Every line but the first begins with `indent` blanks.
[[nodiscard]] std::vector<std::string> wrapped(std::string_view text, std::size_t cells,
                                               std::size_t indent = 0);
/// For a terminal without UTF-8: what has a plain spelling gets it, the rest is `?`.
[[nodiscard]] std::string in_ascii(std::string_view text);

}  // namespace stilling::command
