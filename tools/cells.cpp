// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#include "cells.hpp"

#include <algorithm>
#include <array>
#include <utility>

#include "stilling/text.hpp"

namespace stilling::command {
namespace {

struct range {
  char32_t first, last;
};

/// Wide in every font of a terminal: Unicode's East Asian Width W and F, and pictures (UAX 11).
constexpr std::array wide{range{0x1100, 0x115F},   range{0x2E80, 0x303E},   range{0x3041, 0x4DBF},
                          range{0x4E00, 0xA4CF},   range{0xA960, 0xA97C},   range{0xAC00, 0xD7A3},
                          range{0xF900, 0xFAFF},   range{0xFE30, 0xFE6F},   range{0xFF01, 0xFF60},
                          range{0xFFE0, 0xFFE6},   range{0x1F300, 0x1F64F}, range{0x1F680, 0x1F6FF},
                          range{0x1F900, 0x1FAFF}, range{0x20000, 0x3FFFD}};
/// Marks on the letter before them.
constexpr std::array marks{range{0x0300, 0x036F}, range{0x0483, 0x0489}, range{0x0591, 0x05BD},
                           range{0x064B, 0x065F}, range{0x1AB0, 0x1AFF}, range{0x1DC0, 0x1DFF},
                           range{0x20D0, 0x20FF}, range{0xFE00, 0xFE0F}, range{0xFE20, 0xFE2F}};
/// Of no width and of effects elsewhere: controls, directions of writing, joiners, tags.
constexpr std::array unwelcome{range{0x0000, 0x001F},   range{0x007F, 0x009F},
                               range{0x00AD, 0x00AD},   range{0x061C, 0x061C},
                               range{0x200B, 0x200F},   range{0x2028, 0x202E},
                               range{0x2060, 0x206F},   range{0xFEFF, 0xFEFF},
                               range{0xFFF9, 0xFFFB},   range{0xE0000, 0xE0FFF}};

template <std::size_t N> bool within(const std::array<range, N>& ranges, char32_t c) noexcept {
  return std::ranges::any_of(ranges,
                             [c](const range& r) { return c >= r.first && c <= r.last; });
}

constexpr std::array<std::pair<std::string_view, std::string_view>, 12> spellings{{
    {"±", "+-"}, {"°", "deg "}, {"−", "-"}, {"–", "-"}, {"—", "-"}, {"…", "."},
    {"·", "."}, {"│", "|"}, {"█", "="}, {"◀", "<"}, {"▶", ">"}, {"─", "-"},
}};

}  // namespace

letter first_letter(std::string_view text) noexcept {
  constexpr letter stray{0xFFFD, 1};
  const auto at = [&](std::size_t i) { return static_cast<unsigned char>(text[i]); };
  const unsigned char lead = at(0);
  if (lead < 0x80) return {lead, 1};
  const std::size_t bytes = lead >= 0xF0 ? 4 : lead >= 0xE0 ? 3 : 2;
  if (lead < 0xC2 || lead > 0xF4 || text.size() < bytes) return stray;
  char32_t code = lead & (0xFFU >> (bytes + 1));
  for (std::size_t i = 1; i < bytes; ++i) {
    if ((at(i) & 0xC0U) != 0x80) return stray;
    code = (code << 6U) | (at(i) & 0x3FU);
  }
  return {code, bytes};
}

std::size_t cells_of(char32_t code) noexcept {
  return within(marks, code) || within(unwelcome, code) ? 0 : within(wide, code) ? 2 : 1;
}

std::size_t cells_of(std::string_view text) noexcept {
  std::size_t cells = 0;
  while (!text.empty()) {
    const auto l = first_letter(text);
    cells += cells_of(l.code);
    text.remove_prefix(l.bytes);
  }
  return cells;
}

std::string plain_letters(std::string_view text) {
  const std::string sound = printable(text);
  std::string to;
  for (std::string_view rest = sound; !rest.empty();) {
    const auto l = first_letter(rest);
    if (!within(unwelcome, l.code)) to += rest.substr(0, l.bytes);
    rest.remove_prefix(l.bytes);
  }
  return to;
}

std::string cut_to(std::string_view text, std::size_t cells) {
  if (cells_of(text) <= cells) return std::string{text};
  if (cells == 0) return {};
  std::string to;
  std::size_t used = 0;
  while (!text.empty()) {
    const auto l = first_letter(text);
    if (used + cells_of(l.code) > cells - 1) break;
    used += cells_of(l.code);
    to += text.substr(0, l.bytes);
    text.remove_prefix(l.bytes);
  }
  return to + "…";
}

std::string end_of(std::string_view text, std::size_t cells) {
  while (cells_of(text) > cells) text.remove_prefix(first_letter(text).bytes);
  return std::string{text};
}

std::string padded(std::string_view text, std::size_t cells) {
  auto to = cut_to(text, cells);
  to.append(cells - std::min(cells, cells_of(to)), ' ');
  return to;
}

std::vector<std::string> wrapped(std::string_view text, std::size_t cells, std::size_t indent) {
  if (cells < indent + 8) indent = 0;
  std::vector<std::string> lines;
  std::string line;
  std::size_t used = 0;
  bool begun = false;  // a word stands in the line
  const auto next_line = [&] {
    lines.push_back(std::exchange(line, std::string(indent, ' ')));
    used = indent;
    begun = false;
  };
  while (!text.empty()) {
    const auto end = std::min(text.find(' '), text.size());
    auto word = text.substr(0, end);
    text.remove_prefix(std::min(end + 1, text.size()));
    if (word.empty()) continue;
    if (begun && used + 1 + cells_of(word) > cells) next_line();
    if (begun) line += ' ', ++used;
    while (!word.empty()) {
      const auto l = first_letter(word);
      const auto width = cells_of(l.code);
      if (used + width > cells && used > (lines.empty() ? 0 : indent)) next_line();
      line += word.substr(0, l.bytes);
      used += width;
      begun = true;
      word.remove_prefix(l.bytes);
    }
  }
  if (begun) lines.push_back(line);
  return lines;
}

std::string in_ascii(std::string_view text) {
  std::string to;
  while (!text.empty()) {
    const auto l = first_letter(text);
    const auto as_is = text.substr(0, l.bytes);
    const auto* const known =
        std::ranges::find(spellings, as_is, &decltype(spellings)::value_type::first);
    if (l.code < 0x80) to += as_is;
    else if (known != spellings.end()) to += known->second;
    else if (cells_of(l.code) > 0) to += '?';
    text.remove_prefix(l.bytes);
  }
  return to;
}

}  // namespace stilling::command
