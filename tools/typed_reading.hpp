// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#pragma once

#include <optional>
#include <string_view>

#include "stilling/combustion/instrument_error.hpp"
#include "stilling/combustion/uncertain.hpp"
#include "stilling/terms/channel.hpp"
#include "stilling/terms/unit.hpp"

// Readings as a person types them: a number, how well it is known, a unit.
//
//   480degF     known to its last digit: half of it either way, all values as likely
//   480±4degF   or 480+-4degF: expanded uncertainty, k = 2
//   3..9:0.5    from 3 to 9 in steps of 0.5, for a table

namespace stilling::command {

/// A reading of a channel in canonical units, and the unit it was typed in. A gas without a unit is
/// in percent, CO and NO in ppm; temperatures and drafts need theirs.
struct typed_reading {
  estimate value;
  unit in = unit::kelvin;
};
[[nodiscard]] typed_reading read_reading(channel of, std::string_view text);

struct typed_range {
  double first = 0, last = 0, step = 0;  // in the unit it was typed in; first < last
  unit in = unit::kelvin;
};
/// None where the text is no range.
[[nodiscard]] std::optional<typed_range> read_range(channel of, std::string_view text);

/// "0.2 pct", "5 ppm or 5 % of reading": plus or minus, of which the greater counts.
[[nodiscard]] instrument_error read_instrument_error(channel of, std::string_view text);

/// Metres.
[[nodiscard]] estimate read_height(std::string_view text);
/// Kelvins; outdoor air.
[[nodiscard]] estimate read_outdoor_temperature(std::string_view text);
/// 0 … 1, relative.
[[nodiscard]] estimate read_humidity(std::string_view text);
/// "500 ft" or "150 m" above sea level: the pressure of the standard atmosphere there, pascals; the
/// weather moves the true one by some 1 kPa.
[[nodiscard]] estimate read_altitude(std::string_view text);

/// What a channel's unit may be, for a person: "degF, degC or K".
[[nodiscard]] std::string_view units_for(channel of);

}  // namespace stilling::command
