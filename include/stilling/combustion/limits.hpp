// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#pragma once

#include <array>
#include <cstdint>
#include <optional>
#include <string_view>
#include <variant>

#include "stilling/combustion/advice.hpp"
#include "stilling/combustion/figure.hpp"
#include "stilling/terms/channel.hpp"
#include "stilling/terms/units.hpp"

/// Limits to judge by, as a table: what is looked at, from where on it is a finding, how grave, on
/// whose word. A maker's own set replaces values one by one. Canonical units.
namespace stilling {

enum class severity : std::uint8_t { note, warning, danger };

[[nodiscard]] constexpr std::string_view name_of(severity s) noexcept {
  constexpr std::string_view names[]{"note", "warning", "danger"};
  return names[static_cast<std::size_t>(s)];
}

struct smoke_spot {  // 0 to 9
  friend constexpr bool operator==(smoke_spot, smoke_spot) = default;
};
struct stack_rate {  // upper bound of how fast the stack temperature moves, K/s
  friend constexpr bool operator==(stack_rate, stack_rate) = default;
};
/// What a limit looks at.
using subject = std::variant<channel, figure, smoke_spot, stack_rate>;

enum class side : std::uint8_t {
  below,            // a finding when below the value
  above,            // … when above
  at_or_above,
  magnitude_above,  // … when further from zero, either way
};

/// Under which circumstances a limit speaks.
enum class applies : std::uint8_t {
  always,
  to_instrument,      // CO2 read by an instrument
  to_absorption_kit,  // CO2 read by a chemical-absorption kit
  to_room_air,        // the probe is in the air of the room
};

struct limit {
  std::string_view key;
  finding_kind finds;
  subject of;
  side when;
  std::optional<double> value;  // none: no limit unless someone sets one
  severity grave;
  std::string_view basis;
  applies only = applies::always;
};

inline constexpr std::string_view common_practice = "common practice";
inline constexpr std::string_view not_set = "not set";

class limit_set {
 public:
  static constexpr std::size_t count = 27;

  constexpr explicit limit_set(const std::array<limit, count>& rows) noexcept : rows_{rows} {}

  [[nodiscard]] constexpr auto begin() const noexcept { return rows_.begin(); }
  [[nodiscard]] constexpr auto end() const noexcept { return rows_.end(); }

  /// Null where there is no such key.
  [[nodiscard]] constexpr const limit* find(std::string_view key) const noexcept {
    for (const auto& row : rows_) {
      if (row.key == key) return &row;
    }
    return nullptr;
  }
  /// Replaces one value and the word it stands on; no value: the limit is silent. False where there
  /// is no such key. `basis` must outlive the set.
  constexpr bool set(std::string_view key, std::optional<double> value,
                     std::string_view basis) noexcept {
    for (auto& row : rows_) {
      if (row.key != key) continue;
      row.value = value;
      row.basis = basis;
      return true;
    }
    return false;
  }

 private:
  std::array<limit, count> rows_;
};

namespace limits {
[[nodiscard]] constexpr double inches(double x) noexcept {
  return pressure_difference::from_inches_of_water(x).in_pascals();
}
inline constexpr double cool = temperature::from_fahrenheit(350).in_kelvins();
inline constexpr double rate =
    temperature_rate::from_fahrenheit_per_minute(3).in_kelvins_per_second();
inline constexpr std::string_view flue_danger =
    "common practice; 400 ppm air-free of the ANSI Z21 family for vented furnaces, as quoted";
}  // namespace limits

/// Residential oil burners with negative draft and an ordinary chimney. Where nothing else is said
/// the value is common practice without a published source: a rule of thumb.
inline constexpr limit_set residential_oil{{{
    {"co_danger", finding_kind::co_high, channel::co, side::at_or_above, 400e-6, severity::danger,
     limits::flue_danger},
    {"co_high", finding_kind::co_high, channel::co, side::at_or_above, 100e-6, severity::warning,
     common_practice},
    {"co_air_free_high", finding_kind::co_high, figure::co_air_free, side::at_or_above, {},
     severity::warning, not_set},
    {"room_co_danger", finding_kind::co_in_room, channel::co, side::at_or_above, 70e-6,
     severity::danger, "UL 2034, first alarm point, as quoted", applies::to_room_air},
    {"room_co_warning", finding_kind::co_in_room, channel::co, side::at_or_above, 35e-6,
     severity::warning, "EPA NAAQS 1 h, 40 CFR 50.8; NIOSH REL", applies::to_room_air},
    {"room_co_note", finding_kind::co_in_room, channel::co, side::at_or_above, 9e-6,
     severity::note, "EPA NAAQS 8 h, 40 CFR 50.8", applies::to_room_air},
    {"oxygen_low", finding_kind::oxygen_low, channel::o2, side::below, 0.04, severity::warning,
     common_practice},
    {"oxygen_high", finding_kind::oxygen_high, channel::o2, side::above, 0.07, severity::warning,
     common_practice},
    {"co2_low", finding_kind::co2_low, channel::co2, side::below, 0.10, severity::warning,
     common_practice, applies::to_instrument},
    {"co2_high", finding_kind::co2_high, channel::co2, side::above, 0.125, severity::warning,
     common_practice, applies::to_instrument},
    {"co2_low_kit", finding_kind::co2_low, channel::co2, side::below, 0.09, severity::warning,
     common_practice, applies::to_absorption_kit},
    {"co2_high_kit", finding_kind::co2_high, channel::co2, side::above, 0.13, severity::warning,
     common_practice, applies::to_absorption_kit},
    {"stack_cool", finding_kind::stack_cool, channel::stack_temp, side::below, limits::cool,
     severity::warning, common_practice},
    {"stack_hot", finding_kind::stack_hot, channel::stack_temp, side::above, {},
     severity::warning, not_set},
    {"draft_overfire_weak", finding_kind::draft_overfire_off, channel::draft_overfire, side::above,
     limits::inches(-0.01), severity::warning, common_practice},
    {"draft_overfire_strong", finding_kind::draft_overfire_off, channel::draft_overfire,
     side::below, limits::inches(-0.02), severity::warning, common_practice},
    {"draft_difference_high", finding_kind::draft_difference_high, figure::draft_difference,
     side::magnitude_above, limits::inches(0.05), severity::warning, common_practice},
    {"draft_breech_pressure", finding_kind::draft_sign, channel::draft_breech, side::above, 0.0,
     severity::warning, "suction is negative; not for units vented under pressure"},
    {"smoke_high", finding_kind::smoke_high, smoke_spot{}, side::above, 0.0, severity::warning,
     common_practice},
    {"reading_too_early", finding_kind::reading_too_early, stack_rate{}, side::above, limits::rate,
     severity::warning, common_practice},
    {"stack_loss_gross_high", finding_kind::stack_loss_high, figure::stack_loss_gross, side::above,
     {}, severity::warning, not_set},
    {"stack_loss_net_high", finding_kind::stack_loss_high, figure::stack_loss_net, side::above, {},
     severity::warning, not_set},
    {"efficiency_gross_low", finding_kind::efficiency_low, figure::efficiency_gross, side::below,
     {}, severity::warning, not_set},
    {"efficiency_net_low", finding_kind::efficiency_low, figure::efficiency_net, side::below, {},
     severity::warning, not_set},
    {"excess_air_high", finding_kind::oxygen_high, figure::excess_air, side::above, {},
     severity::warning, not_set},
    {"net_stack_hot", finding_kind::stack_hot, figure::net_stack_temp, side::above, {},
     severity::warning, not_set},
    // 5 %: the published CO2 maxima of one fuel lie up to 3.5 % apart; oil and gas 29 %.
    {"fuel_factor_off", finding_kind::wrong_fuel_likely, figure::fuel_factor,
     side::magnitude_above, 0.05, severity::warning, "our own choice, from EPA Method 3B's Fo"},
}}};

}  // namespace stilling
