// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#pragma once

#include "stilling/combustion/air.hpp"
#include "stilling/combustion/composition.hpp"
#include "stilling/combustion/thermochemistry.hpp"
#include "stilling/terms/units.hpp"

/// Draft: gauge pressure against the room, suction negative. What a chimney could pull by its
/// height and warmth alone, and what a gauge's wandering zero takes away.
namespace stilling {

inline constexpr double standard_gravity = 9.80665;  // m/s2; exact by definition

/// The pull at the foot of a chimney of `height` metres, friction and fittings aside:
/// -g H (P/R) (M_air/T_outdoor - M_gas/T_gas), ideal gas, temperatures as means over the height.
/// Never a ratio of Celsius, never the density of 0 degC at another temperature. Molar mass of the
/// gas in g/mol: dry air stands in where it is not known. Negative: it pulls.
template <class Number>
[[nodiscard]] constexpr Number draft_of_height(const Number& height, const Number& outdoor,
                                               const Number& gas, const Number& barometer,
                                               double molar_mass_of_gas) noexcept {
  const Number lift = molar_mass::dry_air / outdoor - molar_mass_of_gas / gas;
  return -(standard_gravity * height * barometer / gas_constant * lift / 1000.0);
}
[[nodiscard]] constexpr pressure_difference theoretical_draft(
    double height, temperature outdoor, temperature gas,
    double barometer = air::standard_pressure,
    double molar_mass_of_gas = molar_mass::dry_air) noexcept {
  return pressure_difference::from_pascals(draft_of_height(
      height, outdoor.in_kelvins(), gas.in_kelvins(), barometer, molar_mass_of_gas));
}

/// A draft freed of the gauge's zero, read at the open hose before and after: the zero is taken to
/// have moved evenly. `share`: how far from before (0) to after (1) the draft was read.
[[nodiscard]] constexpr pressure_difference zero_corrected(pressure_difference read,
                                                           pressure_difference zero_before,
                                                           pressure_difference zero_after,
                                                           double share = 0.5) noexcept {
  const double zero = zero_before.in_pascals() +
                      share * (zero_after.in_pascals() - zero_before.in_pascals());
  return pressure_difference::from_pascals(read.in_pascals() - zero);
}

}  // namespace stilling
