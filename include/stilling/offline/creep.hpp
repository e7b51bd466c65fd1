// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#pragma once

#include <algorithm>
#include <cstddef>
#include <limits>

#include "stilling/estimators/exponential.hpp"
#include "stilling/estimators/weighted_line.hpp"
#include "stilling/offline/finished_series.hpp"
#include "stilling/offline/serial_noise.hpp"

/// How well one creep runs through a part of a finished series: a + b e^(-t/tau) beside the noise,
/// tau on a grid of octaves from a 32nd of the part to all of it.
namespace stilling {

/// Least whitened squares over rows `first` up to, not with, `last`; at least two rows.
[[nodiscard]] inline double creep_squares(const finished_series& s, const serial_noise& noise,
                                          std::size_t first, std::size_t last) {
  const double length = s.t(last - 1) - s.t(first);
  double least = std::numeric_limits<double>::infinity();
  for (double tau = length / 32; tau <= length; tau *= 2) {
    weighted_line over_creep;  // a line in e^(-t/tau) instead of t
    double left = 1;
    over_creep.push(left, s.y(first));
    for (std::size_t i = first + 1; i < last; ++i) {
      const double before = left;
      left *= decay((s.t(i) - s.t(i - 1)) / tau);
      over_creep.push(left, s.y(i), before, s.y(i - 1), noise.phi(i));
    }
    least = std::min(least, over_creep.squares());
  }
  return least;
}

}  // namespace stilling
