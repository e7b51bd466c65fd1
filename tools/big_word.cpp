// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#include "big_word.hpp"

#include <array>

namespace stilling::command {
namespace {

constexpr std::size_t rows = 5;
using glyph = std::array<std::string_view, rows>;

constexpr std::array<glyph, 26> letters{{
    {" ## ", "#  #", "####", "#  #", "#  #"},       // A
    {"### ", "#  #", "### ", "#  #", "### "},       // B
    {" ###", "#   ", "#   ", "#   ", " ###"},       // C
    {"### ", "#  #", "#  #", "#  #", "### "},       // D
    {"###", "#  ", "## ", "#  ", "###"},            // E
    {"###", "#  ", "## ", "#  ", "#  "},            // F
    {" ###", "#   ", "# ##", "#  #", " ###"},       // G
    {"#  #", "#  #", "####", "#  #", "#  #"},       // H
    {"#", "#", "#", "#", "#"},                      // I
    {"  #", "  #", "  #", "# #", " # "},            // J
    {"#  #", "# # ", "##  ", "# # ", "#  #"},       // K
    {"#  ", "#  ", "#  ", "#  ", "###"},            // L
    {"#   #", "## ##", "# # #", "#   #", "#   #"},  // M
    {"#  #", "## #", "# ##", "#  #", "#  #"},       // N
    {" ## ", "#  #", "#  #", "#  #", " ## "},       // O
    {"### ", "#  #", "### ", "#   ", "#   "},       // P
    {" ## ", "#  #", "#  #", "# # ", " # #"},       // Q
    {"### ", "#  #", "### ", "# # ", "#  #"},       // R
    {" ###", "#   ", " ## ", "   #", "### "},       // S
    {"###", " # ", " # ", " # ", " # "},            // T
    {"#  #", "#  #", "#  #", "#  #", " ## "},       // U
    {"# #", "# #", "# #", "# #", " # "},            // V
    {"#   #", "#   #", "# # #", "## ##", "#   #"},  // W
    {"# #", "# #", " # ", "# #", "# #"},            // X
    {"# #", "# #", " # ", " # ", " # "},            // Y
    {"###", "  #", " # ", "#  ", "###"},            // Z
}};

}  // namespace

std::vector<std::string> big_word(std::string_view word, std::size_t scale, bool utf8) {
  std::vector<std::string> dots(rows * scale);
  for (const char c : word) {
    if (c != ' ' && (c < 'A' || c > 'Z')) return {};
    for (std::size_t y = 0; y < dots.size(); ++y) {
      const auto line =
          c == ' ' ? std::string_view{" "} : letters[static_cast<std::size_t>(c - 'A')][y / scale];
      for (const char dot : line) dots[y].append(scale, dot);
      dots[y].append(scale, ' ');
    }
  }
  if (!utf8) {
    for (auto& line : dots) line.erase(line.size() - scale);
    return dots;
  }
  if (dots.size() % 2 != 0) dots.emplace_back(dots[0].size(), ' ');
  std::vector<std::string> lines(dots.size() / 2);
  for (std::size_t y = 0; y < lines.size(); ++y)
    for (std::size_t x = 0; x + scale < dots[0].size(); ++x) {
      const bool upper = dots[2 * y][x] == '#', lower = dots[2 * y + 1][x] == '#';
      lines[y] += upper && lower ? "█" : upper ? "▀" : lower ? "▄" : " ";
    }
  return lines;
}

}  // namespace stilling::command
