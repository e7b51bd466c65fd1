// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#pragma once

#include <optional>
#include <string_view>

#include "stilling/combustion/composition.hpp"
#include "stilling/combustion/uncertain.hpp"

/// Heating values in J/kg. Gross: all water liquid at 25 degC. Net: all of it vapour. They differ
/// by the latent heat of the fuel's water and of the water its hydrogen makes.
namespace stilling {

inline constexpr double joules_per_btu_per_lb = 2326;  // J/kg; exact (international table Btu)

/// H2O gas to liquid at 298.15 K, J/mol: -241822 + 285825, Active Thermochemical Tables 1.112.
inline constexpr double latent_heat_of_water = 44003;
/// CO + 1/2 O2 -> CO2 at 298.15 K, J/mol: 393474 - 110525, Active Thermochemical Tables 1.112.
inline constexpr double heat_of_combustion_of_co = 282949;

template <class Number>
[[nodiscard]] constexpr Number latent_heat_of(const elements<Number>& e) noexcept {
  return (0.5 * e.hydrogen + e.water) * latent_heat_of_water;
}

template <class Number>
[[nodiscard]] constexpr Number net_heating_value(const Number& gross,
                                                 const elements<Number>& e) noexcept {
  return gross - latent_heat_of(e);
}

inline constexpr std::string_view estimate_source =
    "estimated from composition: Channiwala and Parikh, Fuel 81 (2002) 1051-1063";

/// The gross heating value where only the composition is known: Channiwala and Parikh, Fuel 81
/// (2002) 1051-1063. Their mean absolute error of 1.45 % is a standard uncertainty of 1.8 % if the
/// errors are normal. Nothing outside the range of composition they fitted.
[[nodiscard]] constexpr std::optional<estimate> estimated_heating_value(
    const composition& w) noexcept {
  const bool within = w.carbon >= 0 && w.carbon <= 0.9225 && w.hydrogen >= 0.0043 &&
                      w.hydrogen <= 0.2515 && w.oxygen >= 0 && w.oxygen <= 0.50 &&
                      w.nitrogen >= 0 && w.nitrogen <= 0.056 && w.sulphur >= 0 &&
                      w.sulphur <= 0.9408 && w.ash >= 0 && w.ash <= 0.714;
  if (!within) return std::nullopt;
  const double gross = 1e6 * (34.91 * w.carbon + 117.83 * w.hydrogen + 10.05 * w.sulphur -
                              10.34 * w.oxygen - 1.51 * w.nitrogen - 2.11 * w.ash);
  if (!(gross > 0)) return std::nullopt;
  return estimate{gross, 0.018 * gross};
}

}  // namespace stilling
