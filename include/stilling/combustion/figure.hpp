// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#pragma once

#include <array>
#include <cstddef>
#include <cstdint>
#include <string_view>

/// The combustion figures, and for each what a writer needs to know: its key without the unit, how
/// it is shown, its name in words. Writers loop over figure_table and know no figure by name.
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
  efficiency_gross,
  efficiency_net,
  dew_point,
  draft_difference,
};
inline constexpr std::size_t figure_count = 17;

/// How a figure's canonical value is shown. The key is `<stem>_<unit>`, `<stem>` for a ratio.
enum class shown_as : std::uint8_t {
  temperature,             // kelvin, a point: degF degC K
  temperature_difference,  // kelvin, a distance: degF degC K without an offset
  percent,                 // fraction: times 100, unit pct
  ppm,                     // fraction: times 1e6, unit ppm
  pressure_difference,     // pascal: inH2O Pa …
  ratio,                   // plain number, no unit
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
  heat_basis basis;
};

inline constexpr std::array<figure_traits, figure_count> figure_table{{
    {figure::net_stack_temp, "net_stack_temp", "net stack temperature",
     shown_as::temperature_difference, heat_basis::none},
    {figure::o2, "o2", "O2 (from CO2)", shown_as::percent, heat_basis::none},
    {figure::co2, "co2", "CO2 (from O2)", shown_as::percent, heat_basis::none},
    {figure::excess_air, "excess_air", "excess air", shown_as::percent, heat_basis::none},
    {figure::excess_air_exact, "excess_air_exact", "excess air, from the fuel's composition",
     shown_as::percent, heat_basis::none},
    {figure::air_ratio, "air_ratio", "air ratio", shown_as::ratio, heat_basis::none},
    {figure::co_air_free, "co_air_free", "CO air-free", shown_as::ppm, heat_basis::none},
    {figure::dry_gas_loss, "dry_gas_loss", "dry gas loss", shown_as::percent, heat_basis::gross},
    {figure::vapour_loss, "vapour_loss", "sensible loss in water vapour", shown_as::percent,
     heat_basis::gross},
    {figure::latent_loss, "latent_loss", "latent loss", shown_as::percent, heat_basis::gross},
    {figure::co_loss, "co_loss", "unburned CO loss", shown_as::percent, heat_basis::gross},
    {figure::stack_loss_gross, "stack_loss_gross", "stack loss, gross", shown_as::percent,
     heat_basis::gross},
    {figure::stack_loss_net, "stack_loss_net", "stack loss, net", shown_as::percent,
     heat_basis::net},
    {figure::efficiency_gross, "efficiency_gross", "combustion efficiency, gross",
     shown_as::percent, heat_basis::gross},
    {figure::efficiency_net, "efficiency_net", "combustion efficiency, net", shown_as::percent,
     heat_basis::net},
    {figure::dew_point, "dew_point", "water dew point of the flue gas", shown_as::temperature,
     heat_basis::none},
    {figure::draft_difference, "draft_difference", "draft, breech minus over fire",
     shown_as::pressure_difference, heat_basis::none},
}};

[[nodiscard]] constexpr std::size_t index_of(figure f) noexcept {
  return static_cast<std::size_t>(f);
}
[[nodiscard]] constexpr const figure_traits& traits_of(figure f) noexcept {
  return figure_table[index_of(f)];
}

/// Why a figure cannot be given.
enum class undefined : std::uint8_t {
  not_derived,
  stack_temp_absent,
  ambient_temp_absent,
  oxygen_absent,
  co_absent,
  draft_absent,
  oxygen_negative,
  oxygen_at_air,
  oxygen_near_air,
  oxygen_measured,
  co2_measured,
  co2_not_positive,
  co2_above_maximum,
  co_negative,
  stack_not_above_air,
  temperature_out_of_range,
  constant_unknown,
  composition_unknown,
  heating_value_unknown,
  counted_elsewhere,
  other_basis,
  above_whole,
};
inline constexpr std::size_t undefined_count = 22;

struct undefined_traits {
  std::string_view name;
  std::string_view words;
};

inline constexpr std::array<undefined_traits, undefined_count> undefined_table{{
    {"not_derived", "nothing was asked for"},
    {"stack_temp_absent", "no stack temperature was read"},
    {"ambient_temp_absent", "no combustion air temperature was read or given"},
    {"oxygen_absent", "neither O2 nor CO2 was read"},
    {"co_absent", "no CO was read"},
    {"draft_absent", "draft is needed both at the breech and over the fire"},
    {"oxygen_negative", "O2 is below zero: zero the cell in fresh air"},
    {"oxygen_at_air", "O2 is at air level: no combustion, or the probe is in air"},
    {"oxygen_near_air", "O2 is so near to air that its uncertainty decides the figure"},
    {"oxygen_measured", "O2 was measured, not derived"},
    {"co2_measured", "CO2 was measured, not derived"},
    {"co2_not_positive", "CO2 is not above zero"},
    {"co2_above_maximum", "CO2 is above what this fuel can make: wrong fuel or wrong reading"},
    {"co_negative", "CO is below zero: zero the cell in fresh air"},
    {"stack_not_above_air", "the stack is not warmer than the combustion air"},
    {"temperature_out_of_range", "a temperature is outside what the formula covers"},
    {"constant_unknown", "no published constant of this formula for this fuel"},
    {"composition_unknown", "the fuel's composition is not known"},
    {"heating_value_unknown", "the fuel's heating value is not known"},
    {"counted_elsewhere", "this formula counts it in the dry gas loss"},
    {"other_basis", "the chosen formula is on the other heating value basis"},
    {"above_whole", "more than 100 %: heating value or basis is wrong"},
}};

[[nodiscard]] constexpr std::string_view name_of(undefined u) noexcept {
  return undefined_table[static_cast<std::size_t>(u)].name;
}
[[nodiscard]] constexpr std::string_view words_of(undefined u) noexcept {
  return undefined_table[static_cast<std::size_t>(u)].words;
}

}  // namespace stilling
