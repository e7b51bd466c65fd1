// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#pragma once

#include <array>
#include <cstddef>
#include <cstdint>
#include <string_view>

/// Every formula by name, as text, with its source. A derived value names the formula that made it;
/// the constant for the oxygen in air belongs to the formula and to nothing else.
/// In a text, {key} stands for a number: a channel, a figure or a constant of the fuel, in the unit
/// the key ends with (see explain.hpp). Numbers filled in, it can be followed with a calculator.
namespace stilling {

enum class formula : std::uint8_t {
  net_temperature,
  draft_subtraction,
  ideal_draft,
  f_factor_co2,
  f_factor_o2,
  composition_co2,
  composition_o2,
  short_excess_air,
  exact_excess_air,
  short_air_ratio,
  short_co_air_free,
  app_o_sensible,
  app_o_latent,
  app_o_loss,
  siegert_loss,
  siegert_rounding,
  composition_dry_gas,
  composition_vapour,
  composition_latent,
  composition_co,
  composition_loss,
  composition_loss_without_co,
  composition_net_loss,
  gross_efficiency,
  net_efficiency,
  saturation,
  method_3b_factor,
  composition_factor,
  f_factor_factor,
  co_as_read,
  co_left_out,
  dry_air_assumed,
  humid_air,
  stoichiometric_air,
  dry_gas_from_o2,
  dry_gas_from_co2,
  air_balance,
  water_balance,
  mean_heat_capacity_dry,
  mean_heat_capacity_vapour,
  partial_pressure,
};
inline constexpr std::size_t formula_count = 41;

struct formula_traits {
  formula is;
  std::string_view name;
  std::string_view text;
  std::string_view source;
};

namespace sources {
inline constexpr std::string_view part_75 = "40 CFR 75 App. F 3.3.5 Table 1, Eq. F-14a (2015 ed.)";
inline constexpr std::string_view us_air = "definition, air O2 20.9 % as in 40 CFR 75 App. F";
inline constexpr std::string_view app_o =
    "10 CFR 430 Subpart B App. O 4.1.7-4.1.10, Table 2 (2015 ed.)";
inline constexpr std::string_view bimschv = "1. BImSchV (26 Jan 2010) Annex 2 no. 3.4.1";
inline constexpr std::string_view atoms = "atom balance of the fuel's composition, air O2 20.946 %";
inline constexpr std::string_view nasa =
    "NASA 7-coefficient polynomials, McBride, Gordon, Reno set, integrated";
inline constexpr std::string_view if97 = "IAPWS-IF97 region 4 (IAPWS R7-97(2012))";
inline constexpr std::string_view atct = "Active Thermochemical Tables 1.112";
}  // namespace sources

inline constexpr std::array<formula_traits, formula_count> formula_table{{
    {formula::net_temperature, "net_temperature", "{stack_temp_K} - {ambient_temp_K}",
     "definition"},
    {formula::draft_subtraction, "draft_subtraction", "{draft_breech_Pa} - {draft_overfire_Pa}",
     "definition"},
    {formula::ideal_draft, "ideal_draft",
     "0 - 9.80665 x {chimney_height_m} x {barometer_Pa}/8.31446261815324 x "
     "(28.9647/{outdoor_temp_K} - 28.9647/{stack_temp_K})/1000",
     "weight of ideal gases; dry air stands in for flue gas; friction and fittings aside"},
    {formula::f_factor_co2, "f_factor_co2",
     "100 x {fc}/{f} x (20.9 - {o2_pct})/20.9", sources::part_75},
    {formula::f_factor_o2, "f_factor_o2", "20.9 x (1 - {co2_pct}/(100 x {fc}/{f}))",
     sources::part_75},
    {formula::composition_co2, "composition_co2",
     "100 x {fuel_carbon}/{dry_flue_gas_mol_per_kg} - {co_counted_ppm}/10000", sources::atoms},
    {formula::composition_o2, "composition_o2",
     "20.946 x ({dry_air_mol_per_kg} - {theoretical_air_mol_per_kg})/{dry_flue_gas_mol_per_kg} + "
     "{co_counted_ppm}/20000",
     sources::atoms},
    {formula::short_excess_air, "short_excess_air", "100 x {o2_pct}/(20.9 - {o2_pct})",
     sources::us_air},
    {formula::exact_excess_air, "exact_excess_air",
     "100 x ({dry_air_mol_per_kg}/{theoretical_air_mol_per_kg} - 1)", sources::atoms},
    {formula::short_air_ratio, "short_air_ratio", "20.9/(20.9 - {o2_pct})", sources::us_air},
    {formula::short_co_air_free, "short_co_air_free", "{co_ppm} x 20.9/(20.9 - {o2_pct})",
     sources::us_air},
    {formula::app_o_sensible, "app_o_sensible",
     "{app_o_c} x ({app_o_a} + {app_o_b}/{co2_pct} + {app_o_d}) x {net_stack_temp_degF}",
     sources::app_o},
    {formula::app_o_latent, "app_o_latent", "{app_o_l}", sources::app_o},
    {formula::app_o_loss, "app_o_loss", "{dry_gas_loss_pct} + {latent_loss_pct}", sources::app_o},
    {formula::siegert_loss, "siegert_loss",
     "{net_stack_temp_K} x ({siegert_a}/(21 - {o2_pct}) + {siegert_b})", sources::bimschv},
    {formula::siegert_rounding, "siegert_rounding",
     "{stack_loss_net_pct}, rounded to one decimal, then to the integer, halves up",
     "1. BImSchV (26 Jan 2010) Annex 2 no. 3.4.2 and 2.3"},
    {formula::composition_dry_gas, "composition_dry_gas",
     "100 x {dry_flue_gas_mol_per_kg} x {heat_capacity_dry_J_per_mol_K} x {net_stack_temp_K}/"
     "{heating_value}",
     sources::nasa},
    {formula::composition_vapour, "composition_vapour",
     "100 x {water_vapour_mol_per_kg} x {heat_capacity_vapour_J_per_mol_K} x {net_stack_temp_K}/"
     "{heating_value}",
     sources::nasa},
    {formula::composition_latent, "composition_latent",
     "100 x ({fuel_hydrogen}/2 + {fuel_water}) x 44003/{heating_value}", sources::atct},
    {formula::composition_co, "composition_co",
     "100 x {co_counted_ppm}/1000000 x {dry_flue_gas_mol_per_kg} x 282949/{heating_value}",
     sources::atct},
    {formula::composition_loss, "composition_loss",
     "{dry_gas_loss_pct} + {vapour_loss_pct} + {latent_loss_pct} + {co_loss_pct}",
     "sum; all water leaves as vapour"},
    {formula::composition_loss_without_co, "composition_loss_without_co",
     "{dry_gas_loss_pct} + {vapour_loss_pct} + {latent_loss_pct}",
     "sum; all water leaves as vapour; no CO was read, complete combustion assumed"},
    {formula::composition_net_loss, "composition_net_loss",
     "({stack_loss_gross_pct} - {latent_loss_pct})/(1 - {latent_loss_pct}/100)",
     "net heating value = gross less the latent heat of the fuel's water"},
    {formula::gross_efficiency, "gross_efficiency", "100 - {stack_loss_gross_pct}", "definition"},
    {formula::net_efficiency, "net_efficiency", "100 - {stack_loss_net_pct}", "definition"},
    {formula::saturation, "saturation",
     "(650.17534844798 + {dew_d} - sqrt((650.17534844798 + {dew_d}) x (650.17534844798 + {dew_d}) "
     "- 4 x (650.17534844798 x {dew_d} - 0.23855557567849)))/2",
     sources::if97},
    {formula::method_3b_factor, "method_3b_factor", "(20.9 - {o2_pct})/{co2_pct}",
     "EPA Method 3B, as quoted"},
    {formula::composition_factor, "composition_factor", "20.9/{co2_maximum_pct}",
     "EPA Method 3B, as quoted; CO2 maximum from the fuel's composition, air O2 20.946 %"},
    {formula::f_factor_factor, "f_factor_factor", "20.9 x {f}/(100 x {fc})", sources::part_75},
    {formula::co_as_read, "co_as_read", "{co_ppm}", "definition"},
    {formula::co_left_out, "co_left_out", "0", "assumption: no CO was read"},
    {formula::dry_air_assumed, "dry_air_assumed", "0", "assumption: dry air, no humidity given"},
    {formula::humid_air, "humid_air",
     "{humidity} x {air_saturation_Pa}/({barometer_Pa} - {humidity} x {air_saturation_Pa})",
     "ideal mixture"},
    {formula::stoichiometric_air, "stoichiometric_air",
     "({fuel_carbon} + {fuel_sulphur} + {fuel_hydrogen}/4 - {fuel_oxygen}/2)/0.20946",
     sources::atoms},
    {formula::dry_gas_from_o2, "dry_gas_from_o2",
     "({theoretical_air_mol_per_kg} + {fuel_nitrogen}/2 + {fuel_oxygen}/2 - {fuel_hydrogen}/4)/"
     "(1 - {co_counted_ppm}/2000000 - ({o2_pct}/100 - {co_counted_ppm}/2000000)/0.20946)",
     sources::atoms},
    {formula::dry_gas_from_co2, "dry_gas_from_co2",
     "{fuel_carbon}/({co2_pct}/100 + {co_counted_ppm}/1000000)", sources::atoms},
    {formula::air_balance, "air_balance",
     "{dry_flue_gas_mol_per_kg} x (1 - {co_counted_ppm}/2000000) - {fuel_nitrogen}/2 - "
     "{fuel_oxygen}/2 + {fuel_hydrogen}/4",
     sources::atoms},
    {formula::water_balance, "water_balance",
     "{fuel_hydrogen}/2 + {fuel_water} + {air_moisture} x {dry_air_mol_per_kg}", sources::atoms},
    {formula::mean_heat_capacity_dry, "mean_heat_capacity_dry",
     "({gas_n2} x {heat_n2} + {gas_o2} x {heat_o2} + {gas_co2} x {heat_co2} + {gas_co} x "
     "{heat_co} + {gas_ar} x {heat_ar} + {gas_so2} x {heat_so2})/{dry_flue_gas_mol_per_kg}",
     sources::nasa},
    {formula::mean_heat_capacity_vapour, "mean_heat_capacity_vapour", "{heat_h2o}", sources::nasa},
    {formula::partial_pressure, "partial_pressure",
     "{barometer_Pa} x {water_vapour_mol_per_kg}/"
     "({water_vapour_mol_per_kg} + {dry_flue_gas_mol_per_kg})",
     "ideal mixture"},
}};

[[nodiscard]] constexpr const formula_traits& traits_of(formula f) noexcept {
  return formula_table[static_cast<std::size_t>(f)];
}
[[nodiscard]] constexpr std::string_view name_of(formula f) noexcept { return traits_of(f).name; }

}  // namespace stilling
