// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#pragma once

#include "stilling/combustion/fuel.hpp"

/// The built-in fuels. Spread is a standard uncertainty: how far a delivery may be from the table.
/// No source read states one, so it is how far the published constants disagree, as said at each.
namespace stilling {
namespace fuels {

// Composition CH1.80 and CH1.93: 40 CFR 1065.655 Table 1 (2015 ed.), No. 2 and No. 1 diesel.
// Spread of hydrogen, No. 2: 0.002 kg/kg moves CO2max by 0.07 point, as far as the published
// 15.36 (App. O) to 15.45 (40 CFR 75) lie apart. No. 1: 0.004, for air/fuel 14.56 in App. O
// against 14.69 of CH1.93.
inline constexpr composition oil_2 = composition_of_formula(1, 1.80);
inline constexpr composition oil_1 = composition_of_formula(1, 1.93);
inline constexpr std::string_view oil_2_source =
    "CH1.80: 40 CFR 1065.655 Table 1 (2015 ed.), No. 2 diesel";
inline constexpr std::string_view oil_1_source =
    "CH1.93: 40 CFR 1065.655 Table 1 (2015 ed.), No. 1 diesel";

// Biodiesel: C 77, H 12, O 11 %, 7.3 lb/gal: NREL Biodiesel Handling and Use Guide, as quoted by
// the US DOE's fuel tables; printed to 1 %, hence 0.01/sqrt(12). Heating value: 0.128 mmBtu/gal
// (40 CFR 98 Table C-1) over 7.3 lb/gal; its carbon factor gives 1.2 % less.
inline constexpr composition biodiesel{0.77, 0.12, 0.11, 0, 0, 0, 0};
inline constexpr double biodiesel_density = 7.3;             // lb/gal
inline constexpr double oil_2_density = 138000.0 / 19500.0;  // lb/gal, Table C-1 over App. O
inline constexpr double biodiesel_gross = 128000 / biodiesel_density * joules_per_btu_per_lb;
inline constexpr double oil_2_gross = 19500 * joules_per_btu_per_lb;

/// Mass share of biodiesel in a blend of `volume` share.
[[nodiscard]] constexpr double mass_share(double volume) noexcept {
  const double bio = volume * biodiesel_density;
  return bio / (bio + (1 - volume) * oil_2_density);
}

[[nodiscard]] constexpr fuel blend_of(std::string_view name, std::string_view label, double volume,
                                      std::optional<f_factors> factors) noexcept {
  const double share = mass_share(volume), rest = 1 - share;
  return {.name = name,
          .label = label,
          .made_of = blend(biodiesel, share, oil_2),
          .hydrogen_uncertainty = 0.003 * share + 0.002 * rest,
          .composition_source = "No. 2 oil and biodiesel by volume; biodiesel C 77, H 12, O 11 %: "
                                "NREL Biodiesel Handling and Use Guide, as quoted by US DOE",
          .heating_value = estimate{share * biodiesel_gross + rest * oil_2_gross,
                                    share * 0.012 * biodiesel_gross + rest * 0.005 * oil_2_gross},
          .heating_value_source = "by mass from 40 CFR 98 Table C-1 (biodiesel 0.128 mmBtu/gal, "
                                  "7.3 lb/gal) and App. O Table 2 (No. 2 oil)",
          .factors = factors,
          .siegert = siegert_constants{0.68, 0.007}};
}

// Natural gas CH3.78 O0.016: 40 CFR 1065.655 Table 1 (2015 ed.). Its gross heating value follows
// from the carbon factor Fc 1040 scf CO2/mmBtu of 40 CFR 75 App. F at 385.35 scf/lbmol; Table C-1's
// 53.06 kg CO2/mmBtu gives 1.5 % more, hence the spread.
inline constexpr composition pipeline_gas = composition_of_formula(1, 3.78, 0.016);
inline constexpr double pipeline_gas_gross =
    pipeline_gas.carbon / molar_mass::carbon * 385.35 * 1e6 / 1040 * joules_per_btu_per_lb;

}  // namespace fuels

inline constexpr std::array fuel_table{
    fuel{.name = "no1_oil",
         .label = "No. 1 oil",
         .made_of = fuels::oil_1,
         .hydrogen_uncertainty = 0.004,
         .composition_source = fuels::oil_1_source,
         .heating_value =
             estimate{19800 * joules_per_btu_per_lb, 0.01 * 19800 * joules_per_btu_per_lb},
         .heating_value_source = "10 CFR 430 Subpart B App. O Table 2 (2015 ed.)",
         .factors = f_factors{9190, 1420},
         .app_o = app_o_constants{19800, 14.56, 6.55, 0.0679, 14.22, 0.0179, 0.167}},
    // 0.5 %: 138000 (Table C-1) and 137380 Btu/gal (a US statistics office) differ by that.
    fuel{.name = "no2_oil",
         .label = "No. 2 oil",
         .made_of = fuels::oil_2,
         .hydrogen_uncertainty = 0.002,
         .composition_source = fuels::oil_2_source,
         .heating_value = estimate{fuels::oil_2_gross, 0.005 * fuels::oil_2_gross},
         .heating_value_source = "10 CFR 430 Subpart B App. O Table 2 (2015 ed.)",
         .factors = f_factors{9190, 1420},
         .app_o = app_o_constants{19500, 14.49, 6.50, 0.0667, 14.34, 0.0181, 0.167},
         .siegert = siegert_constants{0.68, 0.007}},
    // No. 1 oil stands in for kerosene. Table C-1's 75.20 kg CO2/mmBtu would give 4 % less heat.
    fuel{.name = "kerosene",
         .label = "kerosene",
         .made_of = fuels::oil_1,
         .hydrogen_uncertainty = 0.004,
         .composition_source = "No. 1 oil stands in; CH1.93: 40 CFR 1065.655 Table 1 (2015 ed.)",
         .heating_value =
             estimate{19800 * joules_per_btu_per_lb, 0.02 * 19800 * joules_per_btu_per_lb},
         .heating_value_source = "No. 1 oil stands in; 10 CFR 430 Subpart B App. O (2015 ed.)",
         .factors = f_factors{9190, 1420}},
    fuels::blend_of("b5", "B5, 5 % biodiesel in No. 2 oil", 0.05, f_factors{9190, 1420}),
    fuels::blend_of("b20", "B20, 20 % biodiesel in No. 2 oil", 0.20, std::nullopt),
    fuels::blend_of("b100", "B100, biodiesel", 1.0, std::nullopt),
    fuel{.name = "natural_gas",
         .label = "natural gas",
         .made_of = fuels::pipeline_gas,
         .hydrogen_uncertainty = 0.004,
         .composition_source = "CH3.78 O0.016: 40 CFR 1065.655 Table 1 (2015 ed.)",
         .heating_value = estimate{fuels::pipeline_gas_gross, 0.01 * fuels::pipeline_gas_gross},
         .heating_value_source = "from Fc 1040 scf CO2/mmBtu, 40 CFR 75 App. F (2015 ed.)",
         .factors = f_factors{8710, 1040},
         .app_o = app_o_constants{20120, 14.45, 9.55, 0.0919, 10.96, 0.0175, 0.171},
         .siegert = siegert_constants{0.66, 0.009}},
    fuel{.name = "propane",
         .label = "propane",
         .made_of = composition_of(pure("c3h8")),
         .hydrogen_uncertainty = 0.001,
         .composition_source = "C3H8",
         .heating_value = estimate{heating_value_of(pure("c3h8")),
                                   0.005 * heating_value_of(pure("c3h8"))},
         .heating_value_source = "formation enthalpies, McBride, Gordon, Reno set",
         .factors = f_factors{8710, 1190},
         .app_o = app_o_constants{21500, 15.58, 7.99, 0.0841, 12.60, 0.0177, 0.151},
         .siegert = siegert_constants{0.63, 0.008}},
    fuel{.name = "butane",
         .label = "butane",
         .made_of = composition_of(pure("n_c4h10")),
         .hydrogen_uncertainty = 0.001,
         .composition_source = "C4H10",
         .heating_value = estimate{heating_value_of(pure("n_c4h10")),
                                   0.005 * heating_value_of(pure("n_c4h10"))},
         .heating_value_source = "formation enthalpies, McBride, Gordon, Reno set",
         .factors = f_factors{8710, 1250},
         .app_o = app_o_constants{20000, 15.36, 7.79, 0.0808, 12.93, 0.0180, 0.143},
         .siegert = siegert_constants{0.63, 0.008}},
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
