// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#pragma once

#include <fmt/format.h>

#include <iterator>
#include <optional>
#include <string>
#include <string_view>
#include <utility>

#include "stilling/combustion/combustion.hpp"
#include "stilling/items/reading.hpp"
#include "stilling/terms/time.hpp"
#include "stilling/text.hpp"

/// Numbers as the writers spell them. Private to src/.
namespace stilling::writing {

template <class... T> void put(std::string& to, fmt::format_string<T...> form, T&&... what) {
  fmt::format_to(std::back_inserter(to), form, std::forward<T>(what)...);
}

inline constexpr double coverage_factor = 2;
inline constexpr double seconds_per_minute = 60;

/// Exact: the shortest decimal of that many nanoseconds.
void append_seconds(std::string& to, instant t);
/// Rounded to so many decimals, without trailing zeros; never "-0".
void append_rounded(std::string& to, double x, int decimals);
/// Rounded to so many decimals, all of them written; never "-0".
void append_fixed(std::string& to, double x, int decimals);

/// The power of ten of the leading digit of |x|; x finite and not 0.
[[nodiscard]] int leading_power(double x);
/// Decimals that show two digits beyond the leading digit of `u`.
[[nodiscard]] int decimals_below(double u);
/// Where nothing is known about the uncertainty: enough for any display.
[[nodiscard]] int usual_decimals(unit u) noexcept;
/// Decimals that show all a display ever does, and nothing of binary rounding: what is written so
/// is read back as the same number.
[[nodiscard]] int all_decimals(unit u) noexcept;

/// A quantity in the unit it is written in, with its expanded uncertainty.
struct shown_value {
  double value = 0;
  std::optional<double> u;  // none: unknown. Scatter of 0 says only that it is below the display
  int decimals = 0;
};
[[nodiscard]] shown_value shown(channel c, const channel_reading& r, const presentation& as);
[[nodiscard]] shown_value shown(figure f, const derived_value& d, const presentation& as);

/// `<stem>_<unit>`, or the stem alone for a plain number.
[[nodiscard]] std::string key_of(figure f, const presentation& as);
/// The unit a figure is written in: "degF", "pct"; empty for a plain number.
[[nodiscard]] std::string_view unit_of(figure f, const presentation& as) noexcept;

/// Words from outside, made printable: control bytes and broken UTF-8 become U+FFFD.
void append_printable(std::string& to, std::string_view text);

}  // namespace stilling::writing
