// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#pragma once

#include <cstddef>
#include <cstdint>
#include <optional>
#include <string_view>

#include "stilling/decoding/scanner.hpp"

/// Stamps that leave no doubt, without being told the form: ISO 8601 (extended or basic, T or blank
/// between; also by week or by day of the year), year first with slashes, day.month.year with dots,
/// months by name, a clock alone; 12 hours with AM or PM; an offset or none. 17/03/2026 can be read
/// one way only; 03/04/2026 is two days, and is refused until the log has shown which comes first.
namespace stilling {

/// Whether day or month comes first where both are numbers between slashes or strokes.
enum class date_order : std::uint8_t { open, day_first, month_first };

namespace detail {

/// W10-6, W106 (ISO 8601, 5.2.3) or the day of the year (5.2.2), behind the year.
[[nodiscard]] constexpr bool scan_week_or_day(scanner& s, civil& c, bool basic) noexcept {
  using namespace std::chrono;
  std::uint32_t week = 0;
  std::uint32_t day = 0;
  sys_days at{};
  if (s.take_any("Ww")) {
    if (!s.take_number(2, 2, week) || (!basic && !s.take('-')) || !s.take_number(1, 1, day) ||
        week < 1 || week > 53 || day < 1 || day > 7)
      return false;
    // Week 1 holds the fourth of January.
    const sys_days fourth{year{c.year} / 1 / 4};
    at = fourth - days{weekday{fourth}.iso_encoding() - 1} + weeks{week - 1} + days{day - 1};
    // A 53rd week that is the first of the next year.
    if (week == 53 && year_month_day{at - days{day - 1} + days{3}}.year() != year{c.year})
      return false;
  } else {
    if (!s.take_number(3, 3, day) || day < 1) return false;
    at = sys_days{year{c.year} / 1 / 1} + days{day - 1};
    if (year_month_day{at}.year() != year{c.year}) return false;
  }
  const year_month_day date{at};
  c.year = int{date.year()};
  c.month = unsigned{date.month()};
  c.day = unsigned{date.day()};
  return c.has_year = c.has_date = true;
}

/// The rest of 17/03/2026 or 03-17-2026, behind the first number, which is in `c.day`.
[[nodiscard]] constexpr bool scan_numbers(scanner& s, civil& c, char sign, date_order o) noexcept {
  std::uint32_t n = 0;
  const auto first = c.day;
  std::uint32_t second = 0;
  if (!s.take_number(1, 2, second) || !s.take(sign) || !s.take_number(4, 4, n)) return false;
  const bool day_leads = first > 12;
  const bool month_leads = second > 12;
  if ((day_leads && o == date_order::month_first) || (month_leads && o == date_order::day_first))
    return false;
  if (!day_leads && !month_leads && first != second && o == date_order::open) return false;
  c.month_first = month_leads || (!day_leads && o == date_order::month_first);
  c.day_first = day_leads || (!month_leads && o == date_order::day_first);
  c.day = c.month_first ? second : first;
  c.month = c.month_first ? first : second;
  c.year = static_cast<std::int32_t>(n);
  return c.has_year = c.has_date = true;
}

[[nodiscard]] constexpr bool scan_date(scanner& s, civil& c, date_order o) noexcept {
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
  } else if (s.digits_ahead() == 7) {  // 2026365
    if (!s.take_number(4, 4, n)) return false;
    c.year = static_cast<std::int32_t>(n);
    return scan_week_or_day(s, c, true);
  } else if (s.digits_ahead() == 8) {  // 20261231
    if (!s.take_number(4, 4, n) || !s.take_number(2, 2, c.month) || !s.take_number(2, 2, c.day))
      return false;
    c.has_year = true;
  } else if (s.digits_ahead() == 4) {  // 2026-12-31, 2026/12/31
    static_cast<void>(s.take_number(4, 4, n));
    c.year = static_cast<std::int32_t>(n);
    auto ahead = s;
    const bool basic = !ahead.take('-');
    if (ahead.front() == 'W' || ahead.front() == 'w' || (!basic && ahead.digits_ahead() == 3)) {
      s = ahead;
      return scan_week_or_day(s, c, basic);
    }
    const char sign = s.front();
    if (!s.take_any("-/.") || !s.take_number(1, 2, c.month) || !s.take(sign) ||
        !s.take_number(1, 2, c.day))
      return false;
    c.has_year = true;
  } else {  // 31.12.2026, 31 Dec 2026, 31-Dec-2026
    if (!s.take_number(1, 2, c.day)) return false;
    const char sign = s.front();
    auto ahead = s;
    if (ahead.take_any("/-") && ahead.digits_ahead() > 0) {
      s = ahead;
      return scan_numbers(s, c, sign, o);
    }
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
[[nodiscard]] constexpr std::optional<stamp> read_stamp(std::string_view text,
                                                        date_order o = date_order::open) noexcept {
  scanner s{text};
  civil c;
  const auto digits = s.digits_ahead();
  const bool clock_alone =
      (digits == 1 || digits == 2) && text.size() > digits && text[digits] == ':';
  if (clock_alone) {
    if (!detail::scan_clock(s, c, false)) return std::nullopt;
  } else {
    if (!detail::scan_date(s, c, o)) return std::nullopt;
    const bool basic = digits == 8 || digits == 7 || (digits == 4 && s.taken() == 8);
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

/// A stamp but for its date, which is two days: 03/04/2026.
[[nodiscard]] constexpr bool is_two_days(std::string_view text) noexcept {
  return !read_stamp(text) && read_stamp(text, date_order::day_first);
}

}  // namespace stilling
