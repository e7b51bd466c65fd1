// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#pragma once

#include <array>
#include <cstddef>
#include <string_view>

#include "stilling/combustion/flue_gas.hpp"
#include "stilling/combustion/fuel.hpp"
#include "stilling/combustion/published.hpp"

/// Every constant of a fuel as a row: key, value, standard uncertainty, unit, source. For lists,
/// and for the {keys} in the texts of formula.hpp.
namespace stilling {

struct fuel_constant {
  std::string_view key;
  std::string_view label;
  double value = 0;
  double standard_uncertainty = 0;  // 0: no spread is stated
  std::string_view unit;
  std::string_view source;
};

class fuel_constants {
 public:
  constexpr void push(const fuel_constant& c) noexcept { rows_[count_++] = c; }
  [[nodiscard]] constexpr const fuel_constant* begin() const noexcept { return rows_.data(); }
  [[nodiscard]] constexpr const fuel_constant* end() const noexcept { return begin() + count_; }
  [[nodiscard]] constexpr std::size_t size() const noexcept { return count_; }
  /// Null where the fuel has no such constant.
  [[nodiscard]] constexpr const fuel_constant* find(std::string_view key) const noexcept {
    for (const auto& c : *this) {
      if (c.key == key) return &c;
    }
    return nullptr;
  }

 private:
  std::array<fuel_constant, 32> rows_{};
  std::size_t count_ = 0;
};

[[nodiscard]] constexpr fuel_constants constants_of(const fuel& f) noexcept {
  fuel_constants all;
  if (f.made_of) {
    const auto& w = *f.made_of;
    const auto& said = f.composition_source;
    const auto e = elements_of(w, 0.0);
    const double spread = f.hydrogen_uncertainty;
    const auto mass = [&](std::string_view key, std::string_view label, double x, double u) {
      if (x > 0) all.push({key, label, 100 * x, 100 * u, "% by mass", said});
    };
    mass("carbon_pct", "carbon", w.carbon, spread);
    mass("hydrogen_pct", "hydrogen", w.hydrogen, spread);
    mass("oxygen_pct", "oxygen", w.oxygen, 0);
    mass("nitrogen_pct", "nitrogen", w.nitrogen, 0);
    mass("sulphur_pct", "sulphur", w.sulphur, 0);
    mass("water_pct", "water", w.water, 0);
    mass("ash_pct", "ash", w.ash, 0);
    all.push({"fuel_carbon", "carbon atoms", e.carbon, 0, "mol/kg", said});
    all.push({"fuel_hydrogen", "hydrogen atoms", e.hydrogen, 0, "mol/kg", said});
    all.push({"fuel_oxygen", "oxygen atoms", e.oxygen, 0, "mol/kg", said});
    all.push({"fuel_nitrogen", "nitrogen atoms", e.nitrogen, 0, "mol/kg", said});
    all.push({"fuel_sulphur", "sulphur atoms", e.sulphur, 0, "mol/kg", said});
    all.push({"fuel_water", "water", e.water, 0, "mol/kg", said});
    all.push({"co2_maximum_pct", "CO2 at zero O2", 100 * co2_maximum(e), 0, "% dry", said});
    all.push({"air_to_fuel", "theoretical dry air",
              theoretical_air(e) * molar_mass::dry_air / 1000, 0, "kg/kg", said});
  }
  if (f.heating_value) {
    const auto& h = *f.heating_value;
    all.push({"heating_value", "gross heating value", h.value, h.standard_uncertainty, "J/kg",
              f.heating_value_source});
    if (f.made_of) {
      all.push({"net_heating_value", "net heating value",
                net_heating_value(h.value, elements_of(*f.made_of, 0.0)), h.standard_uncertainty,
                "J/kg", "gross less the latent heat of the fuel's water"});
    }
  }
  if (f.factors) {
    constexpr std::string_view said = "40 CFR 75 App. F 3.3.5 Table 1 (2015 ed.)";
    all.push({"f", "F factor", f.factors->dry, 0, "dscf/mmBtu", said});
    all.push({"fc", "carbon F factor", f.factors->carbon, 0, "scf/mmBtu", said});
  }
  if (f.app_o) {
    constexpr std::string_view said = "10 CFR 430 Subpart B App. O Table 2 (2015 ed.)";
    all.push({"app_o_l", "App. O latent heat loss", f.app_o->latent, 0, "%", said});
    all.push({"app_o_a", "App. O A", f.app_o->a, 0, "", said});
    all.push({"app_o_b", "App. O B", f.app_o->b, 0, "", said});
    all.push({"app_o_c", "App. O C", f.app_o->c, 0, "", said});
    all.push({"app_o_d", "App. O D", f.app_o->d, 0, "", said});
  }
  if (f.siegert) {
    constexpr std::string_view said = "1. BImSchV (26 Jan 2010) Annex 2 no. 3.4.1";
    all.push({"siegert_a", "Siegert A", f.siegert->a, 0, "", said});
    all.push({"siegert_b", "Siegert B", f.siegert->b, 0, "", said});
  }
  return all;
}

}  // namespace stilling
