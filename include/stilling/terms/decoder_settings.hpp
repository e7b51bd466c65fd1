// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#pragma once

#include <array>
#include <cstdint>
#include <optional>

#include "stilling/terms/channel.hpp"
#include "stilling/terms/short_text.hpp"
#include "stilling/terms/time.hpp"
#include "stilling/terms/unit.hpp"

/// What the caller knows about a log that the log does not say itself. All of it is optional: a log
/// in the canonical form needs none.
namespace stilling {

struct decoder_settings {
  /// Names of the positions of a log without a header, `-` for one to skip:
  /// `time_s,stack_temp_degF,-,o2_pct`.
  short_text<512> fields{};
  /// Between fields; '\0': as the header or the first row shows. ' ' stands for runs of blanks.
  char separator = '\0';
  /// '.' or ','; '\0': as the cells show.
  char decimal_sign = '\0';
  /// Spacing of a log without a time column, from 0; above 0.
  std::optional<duration> interval{};
};

}  // namespace stilling
