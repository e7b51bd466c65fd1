// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#pragma once

#include <cstddef>
#include <cstdint>
#include <optional>
#include <string_view>

#include "stilling/decoding/scanner.hpp"

/// Stamps that leave no doubt, without being told the form: ISO 8601 (extended or basic, T or blank
/// between), year first with slashes, day.month.year with dots, months by name, a clock alone; 12
/// hours with AM or PM; an offset or none. 03/04/2026 is refused: it is two days, and a format says
/// which.
namespace stilling {

namespace detail {

[[nodiscard]] constexpr bool scan_date(scanner& s, civil& c) noexcept {
  std::uint32_t n = 0;
  if (s.take_word(weekday_names)) {
    static_cast<void>(s.take(','));
    s.skip_blanks();
  }
  if (const auto month = s.take_word(month_names)) {  // Dec 31, Dec 31 2026, Dec 31, 2026
    c.month = static_cast<std::uint32_t>(*month + 1);
    s.skip_blanks();
    if (!s.take_number(1, 2, c.day)) return false;
    auto ahead = s;
    static_cast<void>(ahead.take(','));
    ahead.skip_blanks();
    c.has_year = ahead.digits_ahead() == 4 && ahead.take_number(4, 4, n);
    if (c.has_year) s = ahead;
  } else if (s.digits_ahead() == 8) {  // 20261231
    if (!s.take_number(4, 4, n) || !s.take_number(2, 2, c.month) || !s.take_number(2, 2, c.day))
      return false;
    c.has_year = true;
  } else if (s.digits_ahead() == 4) {  // 2026-12-31, 2026/12/31
    static_cast<void>(s.take_number(4, 4, n));
    const char sign = s.front();
    if (!s.take_any("-/.") || !s.take_number(1, 2, c.month) || !s.take(sign) ||
        !s.take_number(1, 2, c.day))
      return false;
    c.has_year = true;
  } else {  // 31.12.2026, 31 Dec 2026, 31-Dec-2026
    if (!s.take_number(1, 2, c.day)) return false;
    if (s.take('.') && s.digits_ahead() > 0) {
      if (!s.take_number(1, 2, c.month) || !s.take('.')) return false;
      c.day_first = true;
    } else {
      static_cast<void>(s.take('-'));
      s.skip_blanks();
      const auto name = s.take_word(month_names);
      if (!name) return false;
      c.month = static_cast<std::uint32_t>(*name + 1);
      static_cast<void>(s.take('-'));
      s.skip_blanks();
    }
    const auto digits = s.digits_ahead();
    c.has_year = (digits == 4 || (digits == 2 && c.day_first)) && s.take_number(2, 4, n);
    if (c.has_year && digits == 2) n += 2000;
    if (c.day_first && !c.has_year && digits != 0) return false;
  }
  c.year = static_cast<std::int32_t>(n);
  c.has_date = true;
  return true;
}

[[nodiscard]] constexpr bool scan_clock(scanner& s, civil& c, bool basic) noexcept {
  if (basic && s.digits_ahead() >= 4) {  // 115940, 1159
    if (!s.take_number(2, 2, c.hour) || !s.take_number(2, 2, c.minute)) return false;
    if (s.digits_ahead() >= 2 && !s.take_number(2, 2, c.second)) return false;
  } else {
    if (!s.take_number(1, 2, c.hour) || !s.take(':') || !s.take_number(2, 2, c.minute))
      return false;
    if (s.take(':') && !s.take_number(2, 2, c.second)) return false;
  }
  if ((s.front() == '.' || s.front() == ',') && s.rest().size() > 1 && is_digit(s.rest()[1])) {
    static_cast<void>(s.take_any(".,"));
    static_cast<void>(s.take_fraction(c.nanosecond));
  }
  auto ahead = s;
  ahead.skip_blanks();
  c.part = ahead.take_half();
  if (c.part != civil::half::whole_day) s = ahead;
  return true;
}

}  // namespace detail

struct stamp {
  civil shows{};
  std::size_t length = 0;  // letters it takes at the front of the text
};

/// The stamp at the front of `text`; none where the letters are none, or leave doubt.
[[nodiscard]] constexpr std::optional<stamp> read_stamp(std::string_view text) noexcept {
  scanner s{text};
  civil c;
  const auto digits = s.digits_ahead();
  const bool clock_alone = (digits == 1 || digits == 2) && text[digits == 1 ? 1 : 2] == ':';
  if (clock_alone) {
    if (!detail::scan_clock(s, c, false)) return std::nullopt;
  } else {
    if (!detail::scan_date(s, c)) return std::nullopt;
    const bool basic = digits == 8;
    auto ahead = s;
    static_cast<void>(ahead.take(','));
    ahead.skip_blanks();
    const bool joined = ahead.take_any("T_t") || ahead.taken() > s.taken();
    if (joined && detail::is_digit(ahead.front())) {
      if (!detail::scan_clock(ahead, c, basic)) return std::nullopt;
      s = ahead;
    }
  }
  auto ahead = s;
  ahead.skip_blanks();
  if (ahead.take_offset(c)) s = ahead;
  ahead = s;
  ahead.skip_blanks();
  std::uint32_t year = 0;  // Thu Dec 31 23:59:59 2026
  if (c.has_date && !c.has_year && ahead.digits_ahead() == 4 && ahead.take_number(4, 4, year)) {
    c.year = static_cast<std::int32_t>(year);
    c.has_year = true;
    s = ahead;
  }
  return stamp{c, s.taken()};
}

}  // namespace stilling
