// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#pragma once

#include <array>
#include <cstddef>
#include <cstdint>
#include <string_view>

namespace bare {

/// A text display of four lines of twenty letters, as small instruments have them.
class display {
 public:
  static constexpr std::size_t lines = 4, columns = 20;

  constexpr display() noexcept { clear(); }
  constexpr void clear() noexcept {
    for (auto& line : letters_) line.fill(' ');
  }
  /// What does not fit is left out.
  constexpr void write(std::size_t line, std::size_t column, std::string_view text) noexcept {
    for (const char c : text)
      if (column < columns) letters_[line][column++] = c;
  }
  /// A number with so many decimals, its last letter in `column`. What is too large is dashes.
  constexpr void write(std::size_t line, std::size_t column, double x, int decimals) noexcept {
    for (int i = 0; i < decimals; ++i) x *= 10;
    const bool negative = x < 0;
    const double size = negative ? -x : x;
    if (!(size < 1e6)) return write(line, column - 2, "---");
    auto steps = static_cast<std::uint32_t>(size + 0.5);
    std::size_t at = column;
    for (int i = 0; i <= decimals || steps != 0; ++i, steps /= 10) {
      if (i == decimals && decimals > 0) letters_[line][at--] = '.';
      letters_[line][at--] = static_cast<char>('0' + steps % 10);
    }
    if (negative) letters_[line][at] = '-';
  }
  [[nodiscard]] constexpr std::string_view line(std::size_t i) const noexcept {
    return {letters_[i].data(), columns};
  }

 private:
  std::array<std::array<char, columns>, lines> letters_{};
};

}  // namespace bare
