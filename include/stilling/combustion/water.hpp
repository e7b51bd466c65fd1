// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#pragma once

#include "stilling/combustion/uncertain.hpp"

/// Saturation of water by IAPWS-IF97, region 4 (IAPWS R7-97(2012), Eq. 29 to 31): only square roots
/// and sums, and its inverse in closed form. Pascal and kelvin. Coefficients from memory; the
/// release's own check values are reproduced to the last digit (see the test).
namespace stilling::water {

inline constexpr double triple_point = 273.16;      // kelvin
inline constexpr double critical_point = 647.096;   // kelvin
inline constexpr double lowest_pressure = 611.213;  // pascal, at 273.15 K

namespace if97 {
inline constexpr double n1 = 0.11670521452767e4, n2 = -0.72421316703206e6;
inline constexpr double n3 = -0.17073846940092e2, n4 = 0.12020824702470e5;
inline constexpr double n5 = -0.32325550322333e7, n6 = 0.14915108613530e2;
inline constexpr double n7 = -0.48232657361591e4, n8 = 0.40511340542057e6;
inline constexpr double n9 = -0.23855557567849, n10 = 0.65017534844798e3;
}  // namespace if97

/// Pascal; 273.15 K to 647.096 K, else meaningless.
template <class Number>
[[nodiscard]] constexpr Number saturation_pressure(const Number& temperature) noexcept {
  using namespace if97;
  const Number theta = temperature + n9 / (temperature - n10);
  const Number a = theta * theta + n1 * theta + n2;
  const Number b = n3 * theta * theta + n4 * theta + n5;
  const Number c = n6 * theta * theta + n7 * theta + n8;
  const Number root = 2.0 * c / (square_root(b * b - 4.0 * a * c) - b);
  const Number square = root * root;
  return 1e6 * square * square;
}

/// Kelvin: the dew point where water vapour has this partial pressure; 611.213 Pa to 22.064 MPa.
template <class Number>
[[nodiscard]] constexpr Number saturation_temperature(const Number& pressure) noexcept {
  using namespace if97;
  const Number beta = square_root(square_root(pressure / 1e6));
  const Number e = beta * beta + n3 * beta + n6;
  const Number f = n1 * beta * beta + n4 * beta + n7;
  const Number g = n2 * beta * beta + n5 * beta + n8;
  const Number d = 2.0 * g / (-square_root(f * f - 4.0 * e * g) - f);
  const Number sum = n10 + d;
  return 0.5 * (sum - square_root(sum * sum - 4.0 * (n9 + n10 * d)));
}

}  // namespace stilling::water
