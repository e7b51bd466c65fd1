// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#pragma once

#include <array>
#include <cstddef>
#include <optional>
#include <string_view>

/// Fuels: constants of the published formulas, each set with its source. A constant nobody
/// published is absent, and the figures that need it are undefined rather than guessed.
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
  std::optional<f_factors> factors;
  std::optional<app_o_constants> app_o;
  std::optional<siegert_constants> siegert;
};

inline constexpr f_factors f_factors_of_oil{9190, 1420};
inline constexpr siegert_constants siegert_of_heating_oil{0.68, 0.007};

inline constexpr std::array fuel_table{
    fuel{"no1_oil", "No. 1 oil", f_factors_of_oil,
         app_o_constants{19800, 14.56, 6.55, 0.0679, 14.22, 0.0179, 0.167}, siegert_of_heating_oil},
    fuel{"no2_oil", "No. 2 oil", f_factors_of_oil,
         app_o_constants{19500, 14.49, 6.50, 0.0667, 14.34, 0.0181, 0.167}, siegert_of_heating_oil},
    fuel{"natural_gas", "natural gas", f_factors{8710, 1040},
         app_o_constants{20120, 14.45, 9.55, 0.0919, 10.96, 0.0175, 0.171},
         siegert_constants{0.66, 0.009}},
    fuel{"propane", "propane", f_factors{8710, 1190},
         app_o_constants{21500, 15.58, 7.99, 0.0841, 12.60, 0.0177, 0.151},
         siegert_constants{0.63, 0.008}},
    fuel{"butane", "butane", f_factors{8710, 1250},
         app_o_constants{20000, 15.36, 7.79, 0.0808, 12.93, 0.0180, 0.143},
         siegert_constants{0.63, 0.008}},
};

/// The built-in fuel of that name; null where there is none.
[[nodiscard]] constexpr const fuel* find_fuel(std::string_view name) noexcept {
  for (const fuel& f : fuel_table) {
    if (f.name == name) return &f;
  }
  return nullptr;
}

inline constexpr const fuel& no2_oil = fuel_table[1];
static_assert(no2_oil.name == "no2_oil");

}  // namespace stilling
