// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#pragma once

#include <array>
#include <cstddef>
#include <cstdint>

#include "stilling/estimators/uncertainty.hpp"
#include "stilling/terms/channel.hpp"

/// A number that knows how much of its uncertainty each input quantity brought. Formulas are
/// written once, for any number: with double they give the value, with `uncertain` the value and
/// its linear propagation (JCGM 100:2008, 5.1.2) by the chain rule, exact partial derivatives and
/// no differences of small numbers. Inputs are independent of each other; figures that share an
/// input are not, and covariance() says how much (JCGM 100, F.1.2.3).
namespace stilling {

/// What is put into a combustion calculation. The first ones are the channels, in their order.
enum class input : std::uint8_t {
  stack_temp, ambient_temp, o2, co2, co, no, draft_breech, draft_overfire,
  barometer,           // absolute pressure, pascal
  humidity,            // relative humidity of the combustion air, 0 … 1
  fuel_hydrogen,       // hydrogen of the fuel, kg/kg, in place of carbon
  fuel_heating_value,  // gross, J/kg
  chimney_height,      // metres
  outdoor_temp,        // kelvin
};
inline constexpr std::size_t input_count = 14;
static_assert(static_cast<std::size_t>(input::draft_overfire) + 1 == channel_count);

/// An input quantity as it is known: its value and standard uncertainty (k = 1), canonical unit.
struct estimate {
  double value = 0;
  double standard_uncertainty = 0;
  friend constexpr bool operator==(const estimate&, const estimate&) = default;
};

struct uncertain {
  double value = 0;
  /// Per input: partial derivative times the input's standard uncertainty, with its sign.
  std::array<double, input_count> contributions{};

  constexpr uncertain() = default;
  constexpr uncertain(double exact) noexcept : value{exact} {}  // a constant has no uncertainty
  constexpr uncertain(const estimate& e, input from) noexcept : value{e.value} {
    contributions[static_cast<std::size_t>(from)] = e.standard_uncertainty;
  }
  [[nodiscard]] constexpr double standard_uncertainty() const noexcept {
    double sum = 0;
    for (const double c : contributions) sum += c * c;
    return stilling::square_root(sum);
  }
  friend constexpr bool operator==(const uncertain&, const uncertain&) = default;
};

/// Covariance of two figures through the inputs they share.
[[nodiscard]] constexpr double covariance(const uncertain& a, const uncertain& b) noexcept {
  double sum = 0;
  for (std::size_t i = 0; i < input_count; ++i) sum += a.contributions[i] * b.contributions[i];
  return sum;
}

/// A function of two numbers, linearised: its value and its two partial derivatives.
[[nodiscard]] constexpr uncertain linear(double value, double da, const uncertain& a, double db,
                                         const uncertain& b) noexcept {
  uncertain y{value};
  for (std::size_t i = 0; i < input_count; ++i) {
    y.contributions[i] = da * a.contributions[i] + db * b.contributions[i];
  }
  return y;
}

constexpr uncertain operator-(const uncertain& a) noexcept {
  return linear(-a.value, -1, a, 0, a);
}
constexpr uncertain operator+(const uncertain& a, const uncertain& b) noexcept {
  return linear(a.value + b.value, 1, a, 1, b);
}
constexpr uncertain operator-(const uncertain& a, const uncertain& b) noexcept {
  return linear(a.value - b.value, 1, a, -1, b);
}
constexpr uncertain operator*(const uncertain& a, const uncertain& b) noexcept {
  return linear(a.value * b.value, b.value, a, a.value, b);
}
constexpr uncertain operator/(const uncertain& a, const uncertain& b) noexcept {
  const double q = a.value / b.value;
  return linear(q, 1 / b.value, a, -q / b.value, b);
}
[[nodiscard]] constexpr uncertain square_root(const uncertain& a) noexcept {
  const double r = square_root(a.value);
  return linear(r, 0.5 / r, a, 0, a);
}

/// The value alone, for comparisons.
[[nodiscard]] constexpr double value_of(const uncertain& a) noexcept { return a.value; }
[[nodiscard]] constexpr double value_of(double a) noexcept { return a; }

}  // namespace stilling
