// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#pragma once

#include <array>
#include <cstddef>
#include <cstdint>
#include <string_view>

/// Why a figure cannot be given: a name for programs, words for people.
namespace stilling {

enum class undefined : std::uint8_t {
  not_derived,
  stack_temp_absent,
  ambient_temp_absent,
  oxygen_absent,
  co_absent,
  draft_absent,
  one_gas_only,
  oxygen_negative,
  oxygen_at_air,
  oxygen_near_air,
  oxygen_measured,
  co2_measured,
  co2_near_zero,
  co2_above_maximum,
  co_negative,
  co_out_of_range,
  stack_not_above_air,
  temperature_out_of_range,
  pressure_out_of_range,
  humidity_out_of_range,
  constant_unknown,
  composition_unknown,
  heating_value_unknown,
  fuel_inconsistent,
  counted_elsewhere,
  other_basis,
  other_method,
  above_whole,
};
inline constexpr std::size_t undefined_count = 28;

struct undefined_traits {
  undefined is;
  std::string_view name;
  std::string_view words;
};

inline constexpr std::array<undefined_traits, undefined_count> undefined_table{{
    {undefined::not_derived, "not_derived", "nothing was asked for"},
    {undefined::stack_temp_absent, "stack_temp_absent", "no stack temperature was read"},
    {undefined::ambient_temp_absent, "ambient_temp_absent",
     "no combustion air temperature was read or given"},
    {undefined::oxygen_absent, "oxygen_absent", "neither O2 nor CO2 was read"},
    {undefined::co_absent, "co_absent", "no CO was read"},
    {undefined::draft_absent, "draft_absent",
     "draft is needed both at the breech and over the fire"},
    {undefined::one_gas_only, "one_gas_only", "O2 and CO2 must both be read"},
    {undefined::oxygen_negative, "oxygen_negative",
     "O2 is below zero: zero the cell in fresh air"},
    {undefined::oxygen_at_air, "oxygen_at_air",
     "O2 is at air level: no combustion, or the probe is in air"},
    {undefined::oxygen_near_air, "oxygen_near_air",
     "O2 is so near to air that its uncertainty decides the figure"},
    {undefined::oxygen_measured, "oxygen_measured", "O2 was measured, not derived"},
    {undefined::co2_measured, "co2_measured", "CO2 was measured, not derived"},
    {undefined::co2_near_zero, "co2_near_zero",
     "CO2 is near zero: no combustion, or the probe is in air"},
    {undefined::co2_above_maximum, "co2_above_maximum",
     "CO2 is above what this fuel can make: wrong fuel or wrong reading"},
    {undefined::co_negative, "co_negative", "CO is below zero: zero the cell in fresh air"},
    {undefined::co_out_of_range, "co_out_of_range", "CO is above 10 %: no flue gas to judge"},
    {undefined::stack_not_above_air, "stack_not_above_air",
     "the stack is not warmer than the combustion air"},
    {undefined::temperature_out_of_range, "temperature_out_of_range",
     "a temperature is outside what the formula covers"},
    {undefined::pressure_out_of_range, "pressure_out_of_range",
     "the barometric pressure is outside what the formula covers"},
    {undefined::humidity_out_of_range, "humidity_out_of_range",
     "relative humidity is not between 0 and 100 %"},
    {undefined::constant_unknown, "constant_unknown",
     "no published constant of this formula for this fuel"},
    {undefined::composition_unknown, "composition_unknown", "the fuel's composition is not known"},
    {undefined::heating_value_unknown, "heating_value_unknown",
     "the fuel's heating value is not known"},
    {undefined::fuel_inconsistent, "fuel_inconsistent",
     "the fuel's composition or heating value cannot be right"},
    {undefined::counted_elsewhere, "counted_elsewhere",
     "this formula counts it in the dry gas loss"},
    {undefined::other_basis, "other_basis",
     "the chosen formula is on the other heating value basis"},
    {undefined::other_method, "other_method", "only another method makes this figure"},
    {undefined::above_whole, "above_whole",
     "more than 100 %: heating value or basis is wrong"},
}};

[[nodiscard]] constexpr std::string_view name_of(undefined u) noexcept {
  return undefined_table[static_cast<std::size_t>(u)].name;
}
[[nodiscard]] constexpr std::string_view words_of(undefined u) noexcept {
  return undefined_table[static_cast<std::size_t>(u)].words;
}

}  // namespace stilling
