// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#pragma once

#include <array>
#include <cstddef>
#include <cstdint>
#include <optional>
#include <string_view>
#include <utility>

#include "stilling/combustion/air.hpp"
#include "stilling/combustion/figure.hpp"
#include "stilling/combustion/formula.hpp"
#include "stilling/combustion/instrument_error.hpp"
#include "stilling/combustion/uncertain.hpp"
#include "stilling/terms/channel.hpp"
#include "stilling/terms/result.hpp"

/// What derive() is asked and what it answers.
namespace stilling {

/// Where heat losses, and CO2 from O2, come from.
enum class method : std::uint8_t {
  composition,  // first principles from the fuel's composition: gross and net basis
  app_o,        // 10 CFR 430 Subpart B App. O (2015 ed.): gross basis
  siegert,      // 1. BImSchV (2010): net basis
};
inline constexpr std::array all_methods{method::composition, method::app_o, method::siegert};

[[nodiscard]] constexpr std::string_view name_of(method m) noexcept {
  constexpr std::string_view names[]{"composition", "app_o", "siegert"};
  return names[static_cast<std::size_t>(m)];
}

/// For the draft it could make.
struct chimney {
  estimate height;   // metres, probe to top
  estimate outdoor;  // kelvin
  friend constexpr bool operator==(const chimney&, const chimney&) = default;
};

struct derive_options {
  method by = method::composition;
  std::optional<estimate> air_temp = {};  // kelvin; takes the place of the ambient_temp channel
  std::optional<estimate> humidity = {};  // relative, 0 … 1, of the combustion air; none: dry air
  /// Absolute pressure, pascal. Only the dew point and the air's moisture depend on it. The default
  /// is sea level with what the weather does (1 kPa: common practice, no source).
  estimate barometer = {air::standard_pressure, 1000};
  std::optional<chimney> flue = {};
  lanes<instrument_error> instrument = {};  // as its specification has it, where one is given
};

struct derived_value {
  double value = 0;  // canonical unit of the figure: kelvin, fraction, pascal, plain number
  double standard_uncertainty = 0;  // k = 1
  formula by = formula::net_temperature;
  uncertain parts;  // the same value with the contribution of every input
  friend constexpr bool operator==(const derived_value&, const derived_value&) = default;
};

using derived = result<derived_value, undefined>;

/// All figures of one reading, in the order of figure_table, and what they were made of.
struct combustion {
  method by = method::composition;
  lanes<estimate> inputs;  // as used: air_temp is in the ambient_temp lane
  std::optional<estimate> humidity;
  estimate barometer;
  std::optional<chimney> flue;
  std::array<derived, figure_count> figures = none(std::make_index_sequence<figure_count>{});

  [[nodiscard]] constexpr const derived& operator[](figure f) const noexcept {
    return figures[index_of(f)];
  }
  void give(figure f, formula with, const uncertain& y) noexcept {
    figures[index_of(f)] = derived_value{y.value, y.standard_uncertainty(), with, y};
  }
  void withhold(figure f, undefined why) noexcept {
    figures[index_of(f)] = unexpected{why};
  }
  friend constexpr bool operator==(const combustion&, const combustion&) = default;

 private:
  template <std::size_t... I>
  static constexpr std::array<derived, figure_count> none(std::index_sequence<I...>) noexcept {
    return {((void)I, derived{unexpected{undefined::not_derived}})...};
  }
};

}  // namespace stilling
