// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#pragma once

#include <cstddef>
#include <cstdint>
#include <string_view>

#include "stilling/decoding/fields.hpp"
#include "stilling/decoding/number.hpp"

/// A number as people write it: decimal point or comma, thousands in groups of three, parted by the
/// other of the two, a blank (ISO 80000-1, 7.3.1) or an apostrophe. The sign that is wrong is
/// refused, never dropped: 9,99 is not 999.
namespace stilling {

/// Which sign parts the decimals of a number and which its thousands ('\0': none).
struct number_signs {
  enum class verdict : std::uint8_t { clear, ambiguous, contradictory };
  verdict is = verdict::clear;
  char point = '.';
  char thousands = '\0';
};

namespace detail {
/// 1.234.567, nothing else: one to three digits, then groups of exactly three.
[[nodiscard]] constexpr bool in_groups_of_three(std::string_view s, char sign) noexcept {
  const auto first = s.find(sign);
  if (first == 0 || first > 3 || s.front() == '0') return false;
  for (s.remove_prefix(first); !s.empty(); s.remove_prefix(4))
    if (s.size() < 4 || s[0] != sign || !is_digit(s[1]) || !is_digit(s[2]) || !is_digit(s[3]))
      return false;
  return true;
}
}  // namespace detail

/// `digits` holds digits, dots and commas only; `known` is the decimal sign the log has shown so
/// far, '\0' for none. A lone sign before exactly three digits could be either: ambiguous until the
/// log has shown its decimal sign.
[[nodiscard]] constexpr number_signs signs_of(std::string_view digits, char known) noexcept {
  using enum number_signs::verdict;
  constexpr auto none = std::string_view::npos;
  const auto dot = digits.rfind('.');
  const auto comma = digits.rfind(',');
  if (dot == none && comma == none) return {.point = known == '\0' ? '.' : known};

  const bool both = dot != none && comma != none;
  const char last = comma == none || (both && dot > comma) ? '.' : ',';
  const char other = last == '.' ? ',' : '.';
  const auto at = digits.find(last);
  const bool once = digits.find(last, at + 1) == none;
  if (both) {
    const bool fits = once && (known == '\0' || known == last) &&
                      detail::in_groups_of_three(digits.substr(0, at), other);
    return fits ? number_signs{clear, last, other} : number_signs{.is = contradictory};
  }
  const bool groups = detail::in_groups_of_three(digits, last);
  if (once && known == last) return {.point = last};
  if (once && known == '\0')
    return groups ? number_signs{.is = ambiguous} : number_signs{.point = last};
  if (groups && known != last) return {clear, other, last};
  return {.is = contradictory};
}

struct written_number {
  enum class verdict : std::uint8_t { number, none, ambiguous, unreadable };
  verdict is = verdict::none;
  double value = 0;
  std::size_t length = 0;  // letters it takes at the front of the text
  char point = '\0';       // the decimal sign it proves, '\0' for none
  bool grouped = false;    // a sign parts its thousands
  std::int32_t decimals = 0;
};

namespace detail {
/// How many letters of digits, dots, commas and grouping blanks or apostrophes stand at `from`;
/// `group` becomes the grouping sign. It parts groups of exactly three, ahead of any dot or comma.
[[nodiscard]] constexpr std::size_t number_end(std::string_view s, std::size_t from,
                                               char& group) noexcept {
  auto begin = from;  // of the group that is being passed
  bool whole = true;  // no dot or comma yet
  const auto digit_at = [&](std::size_t i) { return i < s.size() && is_digit(s[i]); };
  auto at = from;
  for (; at < s.size(); ++at) {
    const char c = s[at];
    if (is_digit(c)) continue;
    if (c == '.' || c == ',') {
      whole = false;
      continue;
    }
    const bool first = begin == from;
    const auto size = at - begin;
    const bool fits = (c == ' ' || c == '\'') && whole &&
                      (first ? size >= 1 && size <= 3 : size == 3) &&
                      (first ? s[begin] != '0' : c == group) && digit_at(at + 1) &&
                      digit_at(at + 2) && digit_at(at + 3) && !digit_at(at + 4);
    if (!fits) break;
    group = c;
    begin = at + 1;
  }
  return at;
}
}  // namespace detail

/// The number at the front of `text`.
[[nodiscard]] inline written_number read_written_number(std::string_view text,
                                                        char known) noexcept {
  using enum written_number::verdict;
  const std::size_t from = !text.empty() && (text.front() == '-' || text.front() == '+') ? 1 : 0;
  char group = '\0';
  const auto stop = detail::number_end(text, from, group);
  char ungrouped[64];
  std::size_t kept = 0;
  for (auto i = from; i < stop; ++i) {
    if (kept == sizeof ungrouped) return {.is = unreadable};
    if (group == '\0' || text[i] != group) ungrouped[kept++] = text[i];
  }
  const std::string_view digits{ungrouped, kept};
  if (digits.find_first_not_of(".,") == std::string_view::npos) return {};
  const auto signs = signs_of(digits, known);
  if (signs.is == number_signs::verdict::ambiguous) return {.is = ambiguous};
  if (signs.is == number_signs::verdict::contradictory) return {.is = unreadable};

  // Without the thousands signs, and with the exponent that may follow.
  char plain[64];
  std::size_t n = 0;
  std::size_t left_out = 0;
  for (std::size_t i = 0; i < text.size() && n < sizeof plain; ++i) {
    if (i < stop && (text[i] == signs.thousands || text[i] == group)) ++left_out;
    else plain[n++] = text[i];
  }
  decimal d;
  const char* const end = read_decimal(plain, plain + n, signs.point, d);
  if (end == nullptr || end == plain + sizeof plain) return {.is = unreadable};
  const auto length = static_cast<std::size_t>(end - plain);
  const auto value = to_double(d, {plain, length}, signs.point);
  if (!value || length + left_out < stop) return {.is = unreadable};
  const bool shows = digits.find_first_of(".,") != std::string_view::npos;
  return {number, *value, length + left_out, shows ? signs.point : '\0', left_out > 0, d.decimals};
}

}  // namespace stilling
