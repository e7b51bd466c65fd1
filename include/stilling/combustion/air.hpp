// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#pragma once

#include <cmath>

#include "stilling/combustion/water.hpp"

/// Combustion air: what dry air is made of, what moisture it brings, how thin it is up the hill.
namespace stilling::air {

/// Dry air, mol/mol; carbon dioxide and the rare gases beside argon count as nitrogen.
/// 20.946 % and 0.934 %: handbook values, second-hand.
inline constexpr double oxygen = 0.20946;
inline constexpr double argon = 0.00934;
inline constexpr double nitrogen = 1 - oxygen - argon;

inline constexpr double standard_pressure = 101325;  // pascal; exact by definition

/// Combustion air colder or warmer than this (kelvin) is not asked for its moisture. Below 273.15 K
/// saturation is extrapolated over supercooled water, as relative humidity is defined there.
inline constexpr double coldest = 233.15;
inline constexpr double warmest = 333.15;

/// Water per dry air, mol/mol, from relative humidity (0 … 1), temperature (coldest … warmest) and
/// absolute pressure (pascal): ideal mixture, saturation by IAPWS-IF97.
template <class Number>
[[nodiscard]] constexpr Number moisture(const Number& relative_humidity, const Number& temperature,
                                        const Number& pressure) noexcept {
  const Number vapour = relative_humidity * water::saturation_pressure(temperature);
  return vapour / (pressure - vapour);
}

/// Standard barometric pressure at an altitude of -500 to 11000 m, pascal: US Standard Atmosphere
/// 1976, constants from memory. The weather moves the true pressure by some 1 kPa about it.
[[nodiscard]] inline double pressure_at_altitude(double metres) noexcept {
  constexpr double lapse = 0.0065, sea_level = 288.15;
  constexpr double exponent = 9.80665 * 0.0289644 / (8.31432 * lapse);
  return standard_pressure * std::pow(1 - lapse * metres / sea_level, exponent);
}

}  // namespace stilling::air
