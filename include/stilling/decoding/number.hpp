// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#pragma once

#include <cstdint>
#include <limits>
#include <optional>
#include <string_view>
#if __has_include(<fast_float/fast_float.h>)
#include <fast_float/fast_float.h>
#endif

#include "stilling/terms/unit.hpp"

/// Decimal text to numbers, without locale. The text is first taken exactly as it stands, as
/// digits x 10^exponent. From there a value becomes the nearest double, and a stamp an exact count
/// of nanoseconds that never was a double.
///
/// Nearly every number a log holds has at most 15 digits; then digits and power of ten are both
/// exact doubles and one division is correctly rounded. The rest goes to fast_float. Where that
/// library is not on the include path (bare metal) such numbers are refused, never misread.
namespace stilling {

struct decimal {
  std::uint64_t digits = 0;
  std::int32_t exponent = 0;
  std::int32_t decimals = 0;  // digits written after the decimal sign
  bool negative = false;
  bool whole = true;  // false: more than 19 digits, the rest is left out
};

namespace detail {
[[nodiscard]] constexpr bool is_digit(char c) noexcept {
  return static_cast<unsigned char>(c - '0') < 10;
}

/// For the rare number of more than 19 digits: leading zeros do not count.
constexpr void take_first_digits(const char* p, const char* end, char point, decimal& d) noexcept {
  d.digits = 0;
  d.exponent = 0;
  int kept = 0;
  bool behind_point = false;
  for (; p != end; ++p) {
    if (*p == point) {
      behind_point = true;
    } else if (kept < 19) {
      d.digits = d.digits * 10 + static_cast<std::uint64_t>(*p - '0');
      if (d.digits != 0) ++kept;
      if (behind_point) --d.exponent;
    } else {
      if (*p != '0') d.whole = false;
      if (!behind_point) ++d.exponent;
    }
  }
}
}  // namespace detail

/// Reads [+-]digits[.digits][e[+-]digits] from the front of [p, end); where it stopped, or null if
/// no number is there. `point` is the decimal sign.
[[nodiscard]] constexpr const char* read_decimal(const char* p, const char* end, char point,
                                                 decimal& d) noexcept {
  d = decimal{};
  if (p == end) return nullptr;
  d.negative = *p == '-';
  if (*p == '-' || *p == '+') ++p;
  const char* const first = p;
  std::uint64_t digits = 0;
  for (; p != end && detail::is_digit(*p); ++p)
    digits = digits * 10 + static_cast<std::uint64_t>(*p - '0');
  auto count = p - first;
  if (p != end && *p == point) {
    const char* const fraction = ++p;
    for (; p != end && detail::is_digit(*p); ++p)
      digits = digits * 10 + static_cast<std::uint64_t>(*p - '0');
    count += p - fraction;
    d.decimals = static_cast<std::int32_t>(p - fraction);
  }
  if (count == 0) return nullptr;
  d.digits = digits;
  d.exponent = -d.decimals;
  if (count > 19) [[unlikely]]
    detail::take_first_digits(first, p, point, d);
  if (p != end && (*p == 'e' || *p == 'E')) [[unlikely]] {
    const char* q = p + 1;
    const bool below = q != end && *q == '-';
    if (q != end && (*q == '-' || *q == '+')) ++q;
    if (q != end && detail::is_digit(*q)) {
      std::int32_t e = 0;
      for (; q != end && detail::is_digit(*q); ++q)
        if (e < 100'000) e = e * 10 + (*q - '0');
      d.exponent += below ? -e : e;
      p = q;
    }
  }
  return p;
}

/// The nearest double; none where it is out of range or fast_float would be needed and is not
/// there. `text` is what `d` was read from.
[[nodiscard]] inline std::optional<double> to_double(const decimal& d, std::string_view text,
                                                     char point) noexcept {
  constexpr double power[]{1e0,  1e1,  1e2,  1e3,  1e4,  1e5,  1e6,  1e7,  1e8,  1e9,  1e10, 1e11,
                           1e12, 1e13, 1e14, 1e15, 1e16, 1e17, 1e18, 1e19, 1e20, 1e21, 1e22};
  if (d.whole && d.digits <= (std::uint64_t{1} << 53) && d.exponent >= -22 && d.exponent <= 22)
      [[likely]] {
    const auto m = static_cast<double>(static_cast<std::int64_t>(d.digits));
    const double x = d.exponent <= 0 ? m / power[-d.exponent] : m * power[d.exponent];
    return d.negative ? -x : x;
  }
#if __has_include(<fast_float/fast_float.h>)
  if (text.starts_with('+')) text.remove_prefix(1);
  double x = 0;
  const auto end = text.data() + text.size();
  const auto read = fast_float::from_chars_advanced(
      text.data(), end, x, fast_float::parse_options{fast_float::chars_format::general, point});
  constexpr double most = std::numeric_limits<double>::max();
  if (read.ec == std::errc{} && read.ptr == end && x >= -most && x <= most) return x;
#else
  static_cast<void>(text), static_cast<void>(point);
#endif
  return std::nullopt;
}

/// Exact nanoseconds; what lies below a nanosecond is rounded half up, so that a constant added to
/// every stamp shifts them all alike. None outside 146 years either way (2^62 ns), so that the
/// difference of any two stamps fits into 64 bits as well.
[[nodiscard]] constexpr std::optional<std::int64_t> to_nanoseconds(const decimal& d,
                                                                   time_unit in) noexcept {
  // A unit is factor x 10^zeros nanoseconds.
  constexpr std::uint64_t factors[time_unit_count]{1, 1, 1, 1, 6, 36};
  constexpr std::int32_t zeros[time_unit_count]{0, 3, 6, 9, 10, 11};
  constexpr auto most = std::uint64_t{1} << 62;
  const auto factor = factors[static_cast<std::size_t>(in)];
  std::int32_t exponent = d.exponent + zeros[static_cast<std::size_t>(in)];
  std::uint64_t n = d.digits;
  if (n == 0) return 0;
  for (; n > most / factor; ++exponent) n /= 10;
  n *= factor;
  for (; exponent > 0; --exponent) {
    if (n > most / 10) return std::nullopt;
    n *= 10;
  }
  if (exponent < -19) return 0;
  std::uint64_t divisor = 1;
  for (; exponent < 0; ++exponent) divisor *= 10;
  const auto rest = n % divisor;
  n /= divisor;
  if (d.negative) return -static_cast<std::int64_t>(n + (rest > divisor / 2 ? 1 : 0));
  return static_cast<std::int64_t>(n + (divisor > 1 && rest >= divisor / 2 ? 1 : 0));
}

}  // namespace stilling
