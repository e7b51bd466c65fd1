// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#pragma once

#include <array>
#include <cstdint>
#include <optional>
#include <string_view>

#include "stilling/combustion/composition.hpp"
#include "stilling/combustion/gas_mixture.hpp"
#include "stilling/combustion/heating_value.hpp"

/// Fuels: what they are made of, what they give, and the constants of the published formulas, each
/// with its source and spread. What nobody published is absent, and the figures that need it are
/// undefined rather than guessed. A fuel of one's own is the same aggregate, filled in by hand.
namespace stilling {

/// 40 CFR 75 App. F 3.3.5 Table 1 (2015 ed.), at 68 degF and 29.92 inHg.
struct f_factors {
  double dry;     // F: dscf of flue gas per mmBtu at zero excess air
  double carbon;  // Fc: scf of CO2 per mmBtu
  friend constexpr bool operator==(const f_factors&, const f_factors&) = default;
};

/// 10 CFR 430 Subpart B App. O Table 2 (2015 ed.); CO2 in percent, temperatures in degF.
struct app_o_constants {
  double heating_value;  // gross, Btu/lb
  double air_to_fuel;    // lb/lb
  double latent;         // L, percent
  double a, b, c, d;
  friend constexpr bool operator==(const app_o_constants&, const app_o_constants&) = default;
};

/// 1. BImSchV (26 Jan 2010) Annex 2 no. 3.4.1; O2 in percent, temperatures in kelvins.
struct siegert_constants {
  double a, b;
  friend constexpr bool operator==(const siegert_constants&, const siegert_constants&) = default;
};

struct fuel {
  std::string_view name;   // as typed: no2_oil
  std::string_view label;  // as read: No. 2 oil
  std::optional<composition> made_of = {};
  double hydrogen_uncertainty = 0;  // standard uncertainty of the hydrogen fraction, kg/kg
  std::string_view composition_source = {};
  std::optional<estimate> heating_value = {};  // gross, J/kg
  std::string_view heating_value_source = {};
  std::optional<f_factors> factors = {};
  std::optional<app_o_constants> app_o = {};
  std::optional<siegert_constants> siegert = {};
};

enum class fuel_fault : std::uint8_t {
  fractions_do_not_add_up,  // to 1 within 0.005
  fraction_negative,
  nothing_burns,            // neither carbon nor hydrogen
  heating_value_impossible, // not above the latent heat of the fuel's water, or above hydrogen's
};

[[nodiscard]] constexpr std::string_view words_of(fuel_fault f) noexcept {
  constexpr std::string_view words[]{
      "mass fractions do not add up to 100 %", "a mass fraction is negative",
      "neither carbon nor hydrogen: nothing burns",
      "the gross heating value is below the latent heat of the fuel's water or above hydrogen's"};
  return words[static_cast<std::size_t>(f)];
}

/// What cannot be right about a fuel; nothing where all of it can.
[[nodiscard]] constexpr std::optional<fuel_fault> check(const fuel& f) noexcept {
  constexpr double gross_of_hydrogen = 142e6;  // J/kg, the most of any fuel
  double latent = 0;
  if (f.made_of) {
    const auto& w = *f.made_of;
    for (double x : {w.carbon, w.hydrogen, w.oxygen, w.nitrogen, w.sulphur, w.water, w.ash}) {
      if (!(x >= 0)) return fuel_fault::fraction_negative;
    }
    if (!(w.sum() > 0.995 && w.sum() < 1.005)) return fuel_fault::fractions_do_not_add_up;
    if (!(w.carbon + w.hydrogen > 0)) return fuel_fault::nothing_burns;
    latent = latent_heat_of(elements_of(w, 0.0));
  }
  if (f.heating_value &&
      !(f.heating_value->value > latent && f.heating_value->value < gross_of_hydrogen)) {
    return fuel_fault::heating_value_impossible;
  }
  return std::nullopt;
}

/// Whether the fire is judged by smoke spots: oils are, gases are not. By the formulas alone, oils
/// and fats have 1.7 to 2.1 atoms of hydrogen per atom of carbon, the heaviest gas, butane, 2.5.
/// What nobody described is taken for an oil.
[[nodiscard]] constexpr bool leaves_soot_spots(const fuel& f) noexcept {
  constexpr double atoms_between = 2.3;
  constexpr double hydrogen_per_carbon = atoms_between * 1.008 / 12.011;  // kg/kg
  return !f.made_of || f.made_of->hydrogen < hydrogen_per_carbon * f.made_of->carbon;
}

/// The same fuel with its gross heating value estimated from its composition, where none is given
/// and the estimate covers it.
[[nodiscard]] constexpr fuel with_estimated_heating_value(fuel f) noexcept {
  if (f.heating_value || !f.made_of) return f;
  f.heating_value = estimated_heating_value(*f.made_of);
  if (f.heating_value) f.heating_value_source = estimate_source;
  return f;
}

}  // namespace stilling
