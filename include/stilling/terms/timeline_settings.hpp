// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#pragma once

#include <optional>

#include "stilling/terms/time.hpp"

namespace stilling {

struct timeline_settings {
  /// A longer step forward is a clock that was set, not a silence; above 0. A logger may rest over
  /// night, so a day.
  duration longest_silence = seconds(86'400);
  /// Distance of rows that share a stamp; none: learnt from how many share one. Above 0.
  std::optional<duration> spacing{};
  /// Of a log that writes a row only when a value changes: the last row holds until the next, and
  /// is said again at this distance. Above 0; none: a missing row is silence.
  std::optional<duration> hold{};
};

}  // namespace stilling
