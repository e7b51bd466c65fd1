// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#pragma once

#include <array>
#include <cstddef>
#include <cstdint>
#include <string_view>

#include "stilling/combustion/undefined.hpp"

/// The combustion figures, and for each what a writer needs to know: its key without the unit, how
/// it is shown, its name in words. Writers loop over figure_table and know no figure by name.
/// Figures marked `working` are steps on the way: for whoever wants to follow the calculation.
namespace stilling {

enum class figure : std::uint8_t {
  net_stack_temp,
  o2,
  co2,
  excess_air,
  excess_air_exact,
  air_ratio,
  co_air_free,
  dry_gas_loss,
  vapour_loss,
  latent_loss,
  co_loss,
  stack_loss_gross,
  stack_loss_net,
  stack_loss_rounded,
  efficiency_gross,
  efficiency_net,
  dew_point,
  draft_difference,
  draft_theoretical,
  fuel_factor,
  fuel_factor_expected,
  co_counted,
  air_moisture,
  theoretical_air,
  dry_flue_gas,
  dry_air,
  water_vapour,
  heat_capacity_dry,
  heat_capacity_vapour,
  vapour_pressure,
};
inline constexpr std::size_t figure_count = 30;

/// How a figure's canonical value is shown. The key is `<stem>_<unit>`, `<stem>` for a ratio.
enum class shown_as : std::uint8_t {
  temperature,             // kelvin, a point: degF degC K
  temperature_difference,  // kelvin, a distance: degF degC K without an offset
  percent,                 // fraction: times 100, unit pct
  ppm,                     // fraction: times 1e6, unit ppm
  pressure_difference,     // pascal: inH2O Pa …
  ratio,                   // plain number, no unit
  amount,                  // mol per kg of fuel, unit mol_per_kg
  heat_capacity,           // J/(mol K), unit J_per_mol_K
  pressure,                // absolute, pascal, unit Pa
};

/// Which heat a percentage is a percentage of. Never mixed, never compared.
enum class heat_basis : std::uint8_t {
  none,
  gross,  // higher heating value: the water of combustion condensed
  net,    // lower heating value: the water of combustion as vapour
};

[[nodiscard]] constexpr std::string_view name_of(heat_basis b) noexcept {
  constexpr std::string_view names[]{"none", "gross", "net"};
  return names[static_cast<std::size_t>(b)];
}

struct figure_traits {
  figure is;
  std::string_view stem;
  std::string_view label;
  shown_as kind;
  heat_basis basis = heat_basis::none;
  bool working = false;
};

inline constexpr std::array<figure_traits, figure_count> figure_table{{
    {figure::net_stack_temp, "net_stack_temp", "net stack temperature",
     shown_as::temperature_difference},
    {figure::o2, "o2", "O2 (from CO2)", shown_as::percent},
    {figure::co2, "co2", "CO2 (from O2)", shown_as::percent},
    {figure::excess_air, "excess_air", "excess air", shown_as::percent},
    {figure::excess_air_exact, "excess_air_exact", "excess air, from the fuel's composition",
     shown_as::percent},
    {figure::air_ratio, "air_ratio", "air ratio", shown_as::ratio},
    {figure::co_air_free, "co_air_free", "CO air-free", shown_as::ppm},
    {figure::dry_gas_loss, "dry_gas_loss", "dry gas loss", shown_as::percent, heat_basis::gross},
    {figure::vapour_loss, "vapour_loss", "sensible loss in water vapour", shown_as::percent,
     heat_basis::gross},
    {figure::latent_loss, "latent_loss", "latent loss", shown_as::percent, heat_basis::gross},
    {figure::co_loss, "co_loss", "unburned CO loss", shown_as::percent, heat_basis::gross},
    {figure::stack_loss_gross, "stack_loss_gross", "stack loss, gross", shown_as::percent,
     heat_basis::gross},
    {figure::stack_loss_net, "stack_loss_net", "stack loss, net", shown_as::percent,
     heat_basis::net},
    {figure::stack_loss_rounded, "stack_loss_rounded", "stack loss, net, rounded as the rule says",
     shown_as::percent, heat_basis::net},
    {figure::efficiency_gross, "efficiency_gross", "combustion efficiency, gross",
     shown_as::percent, heat_basis::gross},
    {figure::efficiency_net, "efficiency_net", "combustion efficiency, net", shown_as::percent,
     heat_basis::net},
    {figure::dew_point, "dew_point", "water dew point of the flue gas", shown_as::temperature},
    {figure::draft_difference, "draft_difference", "draft, breech minus over fire",
     shown_as::pressure_difference},
    {figure::draft_theoretical, "draft_theoretical", "draft by the chimney's height alone",
     shown_as::pressure_difference},
    {figure::fuel_factor, "fuel_factor", "fuel factor Fo", shown_as::ratio},
    {figure::fuel_factor_expected, "fuel_factor_expected", "fuel factor Fo of this fuel",
     shown_as::ratio, heat_basis::none, true},
    {figure::co_counted, "co_counted", "CO counted in the balance", shown_as::ppm,
     heat_basis::none, true},
    {figure::air_moisture, "air_moisture", "water in the air, mol/mol dry", shown_as::ratio,
     heat_basis::none, true},
    {figure::theoretical_air, "theoretical_air", "theoretical dry air", shown_as::amount,
     heat_basis::none, true},
    {figure::dry_flue_gas, "dry_flue_gas", "dry flue gas", shown_as::amount, heat_basis::none,
     true},
    {figure::dry_air, "dry_air", "dry air", shown_as::amount, heat_basis::none, true},
    {figure::water_vapour, "water_vapour", "water vapour", shown_as::amount, heat_basis::none,
     true},
    {figure::heat_capacity_dry, "heat_capacity_dry", "mean heat capacity, dry gas",
     shown_as::heat_capacity, heat_basis::none, true},
    {figure::heat_capacity_vapour, "heat_capacity_vapour", "mean heat capacity, water vapour",
     shown_as::heat_capacity, heat_basis::none, true},
    {figure::vapour_pressure, "vapour_pressure", "partial pressure of water vapour",
     shown_as::pressure, heat_basis::none, true},
}};

[[nodiscard]] constexpr std::size_t index_of(figure f) noexcept {
  return static_cast<std::size_t>(f);
}
[[nodiscard]] constexpr const figure_traits& traits_of(figure f) noexcept {
  return figure_table[index_of(f)];
}

}  // namespace stilling
