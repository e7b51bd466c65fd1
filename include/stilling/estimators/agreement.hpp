// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#pragma once

#include <algorithm>
#include <cstddef>

#include "stilling/estimators/window.hpp"
#include "stilling/terms/reading_rule.hpp"

/// Do a few readings agree within a tolerance? "No more than" is at most; the limit itself passes,
/// however the binary digits of its ends fall.
namespace stilling {

/// In the unit of the values; 0 where there are fewer than two.
template <std::size_t Capacity>
[[nodiscard]] constexpr double variation_of(const window<double, Capacity>& values,
                                            variation as) noexcept {
  double lowest = 0, highest = 0, sum = 0, step = 0;
  for (std::size_t i = 0; i < values.size(); ++i) {
    const double x = values[i];
    lowest = i == 0 ? x : std::min(lowest, x);
    highest = i == 0 ? x : std::max(highest, x);
    sum += x;
    if (i > 0) step = std::max({step, x - values[i - 1], values[i - 1] - x});
  }
  switch (as) {
    case variation::range: return highest - lowest;
    case variation::successive: return step;
    case variation::from_mean: break;
  }
  if (values.empty()) return 0;
  const double mean = sum / static_cast<double>(values.size());
  return std::max(highest - mean, mean - lowest);
}

/// Values in kelvin, mol/mol or pascal; compared in the tolerance's own unit.
template <std::size_t Capacity>
[[nodiscard]] constexpr bool agree(const window<double, Capacity>& values,
                                   const tolerance& within) noexcept {
  double sum = 0;
  for (std::size_t i = 0; i < values.size(); ++i) sum += values[i];
  double limit = within.absolute;
  if (within.share_of_mean > 0 && !values.empty()) {
    const double mean = difference_from_canonical(
        within.in, sum / static_cast<double>(values.size()));
    limit = std::max(limit, within.share_of_mean * (mean > 0 ? mean : -mean));
  }
  constexpr double hair = 1e-9;  // of the limit: far above rounding, far below any display
  return difference_from_canonical(within.in, variation_of(values, within.of)) <=
         limit * (1 + hair);
}

}  // namespace stilling
