// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#pragma once

#include <cstddef>
#include <cstdint>
#include <optional>
#include <string_view>

#include "stilling/decoding/fields.hpp"
#include "stilling/decoding/scanner.hpp"
#include "stilling/decoding/stamp.hpp"

/// Stamps in a form the caller names, in the letters of strftime: %Y %y %m %d %e %j %b %B %h %a %A
/// %H %I %M %S %f %p %z %Z %T %R %F %D %n %t %%. A blank in the format stands for any number of
/// them; a fraction may follow the seconds. Names of months and days are English.
namespace stilling {

namespace detail {

class format_reader {
 public:
  constexpr explicit format_reader(std::string_view text) noexcept : s_{text} {}

  constexpr bool run(std::string_view format) noexcept {
    for (std::size_t i = 0; i < format.size(); ++i) {
      const char c = format[i];
      if (c == ' ') {
        s_.skip_blanks();
      } else if (c != '%') {
        if (!s_.take(c)) return false;
      } else if (++i == format.size() || !take_part(format[i], behind(format, i + 1))) {
        return false;
      }
    }
    return true;
  }

  [[nodiscard]] constexpr std::optional<stamp> result() noexcept {
    if (day_of_year_ != 0) {
      if (!c_.has_year || day_of_year_ > 366) return std::nullopt;
      using namespace std::chrono;
      const year_month_day date{sys_days{year{c_.year} / 1 / 1} + days{day_of_year_ - 1}};
      if (int{date.year()} != c_.year) return std::nullopt;
      c_.month = unsigned{date.month()};
      c_.day = unsigned{date.day()};
    }
    return stamp{c_, s_.taken()};
  }

 private:
  constexpr bool take_part(char part, std::string_view rest) noexcept {
    std::uint32_t n = 0;
    switch (part) {
      case 'Y':
      case 'y':
        if (!s_.take_number(part == 'Y' ? 4 : 2, part == 'Y' ? 4 : 2, n)) return false;
        if (part == 'y') n += n < 69 ? 2000 : 1900;  // as POSIX has it
        c_.year = static_cast<std::int32_t>(n);
        return c_.has_year = true;
      case 'm': c_.has_date = true; return s_.take_number(1, 2, c_.month);
      case 'd':
      case 'e':
        s_.skip_blanks();
        c_.has_date = true;
        return s_.take_number(1, 2, c_.day);
      case 'j': c_.has_date = true; return s_.take_number(1, 3, day_of_year_) && day_of_year_ != 0;
      case 'b':
      case 'B':
      case 'h': {
        const auto month = s_.take_word(month_names);
        c_.month = static_cast<std::uint32_t>(month.value_or(0) + 1);
        c_.has_date = true;
        return month.has_value();
      }
      case 'a':
      case 'A': return s_.take_word(weekday_names).has_value();
      case 'H': s_.skip_blanks(); return s_.take_number(1, 2, c_.hour);
      case 'I':
        s_.skip_blanks();
        return s_.take_number(1, 2, c_.hour) && c_.hour >= 1 && c_.hour <= 12;
      case 'M': return s_.take_number(1, 2, c_.minute);
      case 'S':
        if (!s_.take_number(1, 2, c_.second)) return false;
        if (rest.starts_with('.') || rest.starts_with(',')) return true;
        return !s_.take_any(".,") || s_.take_fraction(c_.nanosecond);
      case 'f': return s_.take_fraction(c_.nanosecond);
      case 'p':
        s_.skip_blanks();
        c_.part = s_.take_half();
        return c_.part != civil::half::whole_day;
      case 'z':
      case 'Z': return s_.take_offset(c_);
      case 'T': return run("%H:%M:%S");
      case 'R': return run("%H:%M");
      case 'F': return run("%Y-%m-%d");
      case 'D': return run("%m/%d/%y");
      case 'n':
      case 't': s_.skip_blanks(); return true;
      case '%': return s_.take('%');
      default: return false;
    }
  }

  scanner s_;
  civil c_{};
  std::uint32_t day_of_year_ = 0;
};

}  // namespace detail

/// The stamp at the front of `text`; none where it does not fit the format.
[[nodiscard]] constexpr std::optional<stamp> read_stamp(std::string_view text,
                                                        std::string_view format) noexcept {
  detail::format_reader reader{text};
  return reader.run(format) ? reader.result() : std::nullopt;
}

/// Whether every letter behind a % is known, and an hour is among them.
[[nodiscard]] constexpr bool is_clock_format(std::string_view format) noexcept {
  bool hour = false;
  for (std::size_t i = 0; i < format.size(); ++i) {
    if (format[i] != '%') continue;
    constexpr std::string_view known = "YymdejbBhaAHIMSfpzZTRFDnt%";
    if (++i == format.size() || known.find(format[i]) == std::string_view::npos) return false;
    hour |= std::string_view{"HITR"}.find(format[i]) != std::string_view::npos;
  }
  return hour;
}

}  // namespace stilling
