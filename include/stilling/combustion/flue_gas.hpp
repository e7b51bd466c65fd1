// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#pragma once

#include "stilling/combustion/air.hpp"
#include "stilling/combustion/composition.hpp"
#include "stilling/combustion/heating_value.hpp"
#include "stilling/combustion/thermochemistry.hpp"

/// Stoichiometry: what a kilogram of fuel and some air become. Everything burns except the CO that
/// was read; nothing is left over as soot, fuel or hydrogen. Amounts in mol per kg of fuel.
namespace stilling {

/// Dry air with just the oxygen that complete combustion takes.
template <class Number>
[[nodiscard]] constexpr Number theoretical_air(const elements<Number>& e) noexcept {
  return (e.carbon + e.sulphur + 0.25 * e.hydrogen - 0.5 * e.oxygen) / air::oxygen;
}

/// Moles that dry flue gas has more than the dry air it came from, CO aside.
template <class Number>
[[nodiscard]] constexpr Number growth(const elements<Number>& e) noexcept {
  return 0.5 * e.nitrogen + 0.5 * e.oxygen - 0.25 * e.hydrogen;
}

/// Dry flue gas when its oxygen and CO are known (mol/mol dry; o2 below air's).
template <class Number>
[[nodiscard]] constexpr Number dry_gas_at_oxygen(const elements<Number>& e, const Number& o2,
                                                 const Number& co) noexcept {
  return (theoretical_air(e) + growth(e)) / (1.0 - 0.5 * co - (o2 - 0.5 * co) / air::oxygen);
}

/// Dry flue gas when its carbon dioxide and CO are known (mol/mol dry; co2 above zero).
template <class Number>
[[nodiscard]] constexpr Number dry_gas_at_carbon_dioxide(const elements<Number>& e,
                                                         const Number& co2,
                                                         const Number& co) noexcept {
  return e.carbon / (co2 + co);
}

template <class Number> struct flue_gas {
  Number air;  // dry, that went in
  Number dry;  // dry flue gas that came out
  Number co2, co, so2, o2, n2, ar, h2o;

  /// Mole fraction of water in the wet flue gas.
  [[nodiscard]] constexpr Number moisture() const noexcept { return h2o / (h2o + dry); }
};

/// `moisture`: water per dry air, mol/mol.
template <class Number>
[[nodiscard]] constexpr flue_gas<Number> flue_gas_of(const elements<Number>& e, const Number& dry,
                                                     const Number& co,
                                                     const Number& moisture) noexcept {
  const Number in = dry * (1.0 - 0.5 * co) - growth(e);
  const Number left = co * dry;
  return {in,
          dry,
          e.carbon - left,
          left,
          e.sulphur,
          air::oxygen * (in - theoretical_air(e)) + 0.5 * left,
          air::nitrogen * in + 0.5 * e.nitrogen,
          air::argon * in,
          0.5 * e.hydrogen + e.water + moisture * in};
}

/// CO2 of the dry flue gas at zero excess air and complete combustion, mol/mol.
template <class Number>
[[nodiscard]] constexpr Number co2_maximum(const elements<Number>& e) noexcept {
  return e.carbon / dry_gas_at_oxygen(e, Number{0.0}, Number{0.0});
}

/// Heat the dry flue gas gives up from `hot` to `cold`, J per kg of fuel.
template <class Number>
[[nodiscard]] constexpr Number dry_sensible_heat(const flue_gas<Number>& g, const Number& cold,
                                                 const Number& hot) noexcept {
  const auto rise = [&](species s) { return enthalpy_rise(s, cold, hot); };
  return g.co2 * rise(species::co2) + g.co * rise(species::co) + g.so2 * rise(species::so2) +
         g.o2 * rise(species::o2) + g.n2 * rise(species::n2) + g.ar * rise(species::ar);
}

}  // namespace stilling
