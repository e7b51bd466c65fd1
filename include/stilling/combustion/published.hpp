// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#pragma once

#include "stilling/combustion/fuel.hpp"
#include "stilling/combustion/uncertain.hpp"

/// The published closed forms, each with its own constants and its own oxygen in air. Written once
/// for double and for uncertain. In: mol/mol dry, kelvin of difference. Out: fractions.
/// None of them checks its range: derive() does.
namespace stilling::published {

/// Oxygen in air as 40 CFR 75 App. F, 40 CFR 63 ZZZZ App. A and US practice have it.
inline constexpr double us_air_oxygen = 0.209;
/// Oxygen in air as 1. BImSchV has it.
inline constexpr double siegert_air_oxygen = 0.21;

/// CO2 of the dry flue gas at zero excess air; 40 CFR 75 App. F (2015 ed.).
[[nodiscard]] constexpr double co2_maximum(const f_factors& f) noexcept { return f.carbon / f.dry; }

/// 40 CFR 75 App. F Eq. F-14a (2015 ed.).
template <class Number>
[[nodiscard]] constexpr Number co2_from_o2(const f_factors& f, const Number& o2) noexcept {
  return co2_maximum(f) * (us_air_oxygen - o2) / us_air_oxygen;
}
template <class Number>
[[nodiscard]] constexpr Number o2_from_co2(const f_factors& f, const Number& co2) noexcept {
  return us_air_oxygen * (1.0 - co2 / co2_maximum(f));
}

/// O2/(20.9 - O2): the trade's short form, some points above the exact value of a fuel.
template <class Number> [[nodiscard]] constexpr Number excess_air(const Number& o2) noexcept {
  return o2 / (us_air_oxygen - o2);
}
template <class Number> [[nodiscard]] constexpr Number air_ratio(const Number& o2) noexcept {
  return us_air_oxygen / (us_air_oxygen - o2);
}
/// CO as it would be had no excess air thinned it.
template <class Number>
[[nodiscard]] constexpr Number co_air_free(const Number& co, const Number& o2) noexcept {
  return co * us_air_oxygen / (us_air_oxygen - o2);
}

/// Sensible heat of the flue gas, water vapour included, as a part of the gross heating value;
/// 10 CFR 430 Subpart B App. O 4.1.9 (2015 ed.).
template <class Number>
[[nodiscard]] constexpr Number app_o_sensible(const app_o_constants& k, const Number& co2,
                                              const Number& net_stack_temp) noexcept {
  const Number r = k.a + k.b / (100.0 * co2);  // dry flue gas per stoichiometric dry flue gas
  return k.c * (r + k.d) * (1.8 * net_stack_temp) / 100.0;
}

/// CO2 at zero excess air by App. O's own constants (R = 1).
[[nodiscard]] constexpr double co2_maximum(const app_o_constants& k) noexcept {
  return k.b / (1 - k.a) / 100;
}

/// Flue loss as a part of the net heating value; 1. BImSchV Annex 2 no. 3.4.1.
template <class Number>
[[nodiscard]] constexpr Number siegert_loss(const siegert_constants& k, const Number& o2,
                                            const Number& net_stack_temp) noexcept {
  return net_stack_temp * (k.a / (100.0 * (siegert_air_oxygen - o2)) + k.b) / 100.0;
}

/// The loss as 1. BImSchV Annex 2 no. 3.4.2 and 2.3 rounds it: to one decimal of a percent, then
/// to the integer, halves up each time (DIN 1333 4.5.1; "up" from memory). Rounded in decimals,
/// so that 6.45, which a double cannot hold, becomes 6.5 and then 7. Fractions in and out; 0 … 1.
[[nodiscard]] constexpr double rounded_as_the_rule_says(double fraction) noexcept {
  const auto millionths = static_cast<long long>(fraction * 1e8 + 0.5);  // of a percent
  const auto tenths = (millionths + 50'000) / 100'000;
  return static_cast<double>((tenths + 5) / 10) / 100;
}

/// A concentration as it would be at `reference` O2 instead of at `o2`; 1. BImSchV Annex 2 no. 2.2.
template <class Number>
[[nodiscard]] constexpr Number at_reference_oxygen(const Number& measured, const Number& o2,
                                                   double reference) noexcept {
  return measured * (siegert_air_oxygen - reference) / (siegert_air_oxygen - o2);
}

/// Fo of dry flue gas; EPA Method 3B. The fuel's own is 20.9 over its CO2 maximum in percent.
template <class Number>
[[nodiscard]] constexpr Number fuel_factor(const Number& o2, const Number& co2) noexcept {
  return (us_air_oxygen - o2) / co2;
}

}  // namespace stilling::published
