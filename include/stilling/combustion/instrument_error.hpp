// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#pragma once

#include "stilling/estimators/uncertainty.hpp"

/// What an instrument's specification says of one channel: plus or minus so much, or such a share
/// of the reading, whichever is greater. Canonical units.
namespace stilling {

struct instrument_error {
  double bound = 0;  // plus or minus
  double share = 0;  // of the reading, 0 … 1
  /// Where the reading's scale has its zero: a share of 200 degC is not one of 473 K.
  double scale_zero = 0;

  /// Plus or minus, at this reading.
  [[nodiscard]] constexpr double at(double reading) const noexcept {
    const double above = reading - scale_zero;
    const double of_reading = share * (above < 0 ? -above : above);
    return of_reading > bound ? of_reading : bound;
  }
  /// k = 1; bounds within which all values are as likely (JCGM 100:2008 4.3.7).
  [[nodiscard]] constexpr uncertainty of(double reading) const noexcept {
    return rectangular(at(reading));
  }
  friend constexpr bool operator==(const instrument_error&, const instrument_error&) = default;
};

}  // namespace stilling
