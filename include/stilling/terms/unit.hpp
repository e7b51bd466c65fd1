// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#pragma once

#include <array>
#include <cstddef>
#include <cstdint>
#include <optional>
#include <string_view>

#include "stilling/terms/channel.hpp"
#include "stilling/terms/units.hpp"

/// The units a log may speak in, as a table: name, UCUM code, and the way to kelvin, mol/mol and
/// pascal. Used at the two doors only, where text comes in and where it goes out; between them a
/// quantity carries its unit in its type (units.hpp).
///
/// UCUM: the Unified Code for Units of Measure, case sensitive codes ("c/s").
namespace stilling {

enum class unit : std::uint8_t {
  kelvin,
  celsius,
  fahrenheit,
  fraction,
  percent,
  ppm,
  pascal,
  hectopascal,
  millibar,
  inch_of_water,
  millimetre_of_water,
};
inline constexpr std::size_t unit_count = 11;

/// canonical = (x + shift) * multiply / divide, in this order: one of the two factors is 1, so that
/// a value is rounded as rarely as units.hpp rounds it.
struct unit_traits {
  std::string_view name;  // as it stands in a column's name
  std::string_view code;  // UCUM
  quantity kind;
  double shift;
  double multiply;
  double divide;
};

inline constexpr std::array<unit_traits, unit_count> unit_table{{
    {"K", "K", quantity::temperature, 0, 1, 1},
    {"degC", "Cel", quantity::temperature, kelvins_at_zero_celsius, 1, 1},
    {"degF", "[degF]", quantity::temperature, 459.67, 1, 1.8},
    {"fraction", "mol/mol", quantity::volume_fraction, 0, 1, 1},
    {"pct", "%", quantity::volume_fraction, 0, 1, 100},
    {"ppm", "[ppm]", quantity::volume_fraction, 0, 1, 1e6},
    {"Pa", "Pa", quantity::pressure_difference, 0, 1, 1},
    {"hPa", "hPa", quantity::pressure_difference, 0, 100, 1},
    {"mbar", "mbar", quantity::pressure_difference, 0, 100, 1},
    {"inH2O", "[in_i'H2O]", quantity::pressure_difference, 0, pascals_per_inch_of_water, 1},
    {"mmH2O", "mm[H2O]", quantity::pressure_difference, 0, pascals_per_millimetre_of_water, 1},
}};

[[nodiscard]] constexpr const unit_traits& traits_of(unit u) noexcept {
  return unit_table[static_cast<std::size_t>(u)];
}

[[nodiscard]] constexpr double to_canonical(unit u, double x) noexcept {
  const auto& t = traits_of(u);
  return (x + t.shift) * t.multiply / t.divide;
}
[[nodiscard]] constexpr double from_canonical(unit u, double x) noexcept {
  const auto& t = traits_of(u);
  return x * t.divide / t.multiply - t.shift;
}
/// A distance (an uncertainty, a rate, a rise): the scale's zero does not matter.
[[nodiscard]] constexpr double difference_from_canonical(unit u, double x) noexcept {
  const auto& t = traits_of(u);
  return x * t.divide / t.multiply;
}

[[nodiscard]] constexpr double difference_to_canonical(unit u, double x) noexcept {
  const auto& t = traits_of(u);
  return x * t.multiply / t.divide;
}

/// By name or UCUM code, spelled exactly; none where the quantity has no such unit.
[[nodiscard]] constexpr std::optional<unit> find_unit(std::string_view text,
                                                      quantity kind) noexcept {
  for (std::size_t i = 0; i < unit_count; ++i) {
    const auto& t = unit_table[i];
    if (t.kind == kind && (text == t.name || text == t.code)) return static_cast<unit>(i);
  }
  if (kind == quantity::volume_fraction && (text == "1" || text == "10*-6"))  // UCUM as well
    return text == "1" ? unit::fraction : unit::ppm;
  return std::nullopt;
}

/// The unit values are in behind the decoder.
[[nodiscard]] constexpr unit canonical_unit(quantity kind) noexcept {
  return kind == quantity::temperature       ? unit::kelvin
         : kind == quantity::volume_fraction ? unit::fraction
                                             : unit::pascal;
}

/// Units of a time column that holds plain numbers.
enum class time_unit : std::uint8_t { nanosecond, microsecond, millisecond, second, minute, hour };
inline constexpr std::size_t time_unit_count = 6;

inline constexpr std::array<std::string_view, time_unit_count> time_unit_names{
    "ns", "us", "ms", "s", "min", "h"};  // the UCUM codes too

[[nodiscard]] constexpr std::string_view name_of(time_unit u) noexcept {
  return time_unit_names[static_cast<std::size_t>(u)];
}
[[nodiscard]] constexpr std::optional<time_unit> find_time_unit(std::string_view text) noexcept {
  for (std::size_t i = 0; i < time_unit_count; ++i)
    if (text == time_unit_names[i]) return static_cast<time_unit>(i);
  return std::nullopt;
}

}  // namespace stilling
