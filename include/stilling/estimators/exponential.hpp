// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#pragma once

#include "stilling/terms/expects.hpp"

/// Exponential decay and natural logarithm from + - x / alone, so that every machine finds the same
/// bits. Relative error at most 1e-13, 1e-12 where x is above 1000; e^-x is 0 beyond x = 700.
namespace stilling {

/// e^-x, x >= 0: the series to the 9th power of a 2^k-th part, squared k times.
[[nodiscard]] constexpr double decay(double x) noexcept {
  STILLING_EXPECTS(x >= 0);
  if (!(x < 700)) return 0;
  int halvings = 0;
  for (; x > 0.125; x /= 2) ++halvings;
  double grown = 1;
  for (int k = 9; k > 0; --k) grown = 1 + grown * x / k;
  double out = 1 / grown;
  for (; halvings > 0; --halvings) out *= out;
  return out;
}

/// ln x, x > 0: halved or doubled into 0.7 to 1.42, there 2 artanh((x - 1)/(x + 1)).
[[nodiscard]] constexpr double natural_log(double x) noexcept {
  STILLING_EXPECTS(x > 0 && x < 1e308);
  constexpr double log_two = 0.693147180559945309417;
  double twos = 0;
  for (; x > 1.42; x /= 2) twos += 1;
  for (; x < 0.7; x *= 2) twos -= 1;
  const double z = (x - 1) / (x + 1), zz = z * z;
  double series = 0;
  for (int k = 19; k > 0; k -= 2) series = series * zz + 1.0 / k;
  return twos * log_two + 2 * z * series;
}

}  // namespace stilling
