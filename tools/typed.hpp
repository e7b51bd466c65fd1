// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#pragma once

#include <stdexcept>
#include <string>
#include <string_view>
#include <vector>

#include "stilling/combustion/uncertain.hpp"
#include "stilling/decoding/column_rule.hpp"
#include "stilling/terms/channel.hpp"
#include "stilling/terms/reading_rule.hpp"
#include "stilling/terms/time.hpp"

// From the words a person typed, on the command line or in a file, to what they mean.

namespace stilling::command {

using words = std::vector<std::string>;

/// What was typed means nothing here; the text says what would.
struct refusal : std::runtime_error {
  using std::runtime_error::runtime_error;
};

/// A number with its unit behind it, 70degF or "70 degF"; and the step of its last digit.
struct typed_quantity {
  double value = 0;
  double step = 1;
  std::string_view unit;  // of the text it was read from
};
[[nodiscard]] typed_quantity read_quantity(std::string_view text);

/// A number and its standard uncertainty, both in `unit`, which is of the text it was read from.
struct typed_estimate {
  double value = 0;
  double standard_uncertainty = 0;
  std::string_view unit;
};
[[nodiscard]] typed_estimate read_estimate(std::string_view text);

/// Without a unit.
[[nodiscard]] double read_plain_number(std::string_view text);
/// Without a unit or a fraction, within the bounds.
[[nodiscard]] int read_whole_number(std::string_view text, int least, int most);
/// "on" or "off".
[[nodiscard]] bool read_switch(std::string_view text);

/// Kelvins; known as read_estimate says.
[[nodiscard]] estimate read_air_temperature(std::string_view text);
/// Pascals, absolute; likewise.
[[nodiscard]] estimate read_barometer(std::string_view text);
/// 9s, 500ms, 1min; a bare number is seconds. 0 or more.
[[nodiscard]] duration read_time(std::string_view text);
/// Above 0.
[[nodiscard]] duration read_interval(std::string_view text);
/// 0.95 or 95 %.
[[nodiscard]] double read_share(std::string_view text);
/// A volume fraction, 17.5 pct; mol/mol.
[[nodiscard]] double read_fraction(std::string_view text);
/// So much warmer, 45 degF or 25 K; kelvins, above 0.
[[nodiscard]] double read_warmer(std::string_view text);
/// How fast a channel may move, 3 degF/min; canonical units per second, above 0.
[[nodiscard]] double read_rate(channel of, std::string_view text);
/// How much readings may vary: 5 degF, or "1 ppm or 2 % of mean", of which the larger counts.
[[nodiscard]] tolerance read_tolerance(channel of, std::string_view text);

[[nodiscard]] channel_set read_channels(const words& names);
/// 'Flue T=stack_temp:degF'
[[nodiscard]] column_rule read_rule(std::string_view text);

[[nodiscard]] std::string joined(const words& those, std::string_view between);
/// The one of `known` that differs least from `text`; empty where none is near.
[[nodiscard]] std::string_view nearest(std::string_view text,
                                       const std::vector<std::string_view>& known);

}  // namespace stilling::command
