// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#pragma once

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <optional>

#include "stilling/terms/time.hpp"

/// An exponential approach, read off two slopes: y' falls by the same share in the same time, so
/// the slopes of a short and a long window tell the time constant, and rate times time constant is
/// the rise still to come. A forecast, never a claim: with a second, slower part the rise is
/// longer.
namespace stilling {

/// A slope per second with its standard uncertainty, at so many seconds before now.
struct slope_at {
  double rate = 0;
  double uncertainty = 0;
  double ago = 0;
};

/// Of window `k` of a trend under noise inflated by autocorrelation; nothing where it has seen too
/// little.
template <class Line>
[[nodiscard]] constexpr std::optional<slope_at> slope_over(const Line& line, std::size_t k,
                                                           double inflation) noexcept {
  if (!line.covers(k, 0.9)) return std::nullopt;
  const auto f = line.fit(k);
  if (!f) return std::nullopt;
  const double g = std::min(inflation, 4.0);  // more is the bend of the approach itself
  return slope_at{f->rate, std::sqrt(f->variance * g / f->time_moment), f->middle};
}

struct approach {
  double time_constant = 0;  // seconds
  double remaining = 0;      // signed, in the values' unit, from now on
};

/// Nothing where the slopes do not differ by more than chance, or do not fall towards zero.
[[nodiscard]] constexpr std::optional<approach> approach_from(const slope_at& recent,
                                                              const slope_at& older) noexcept {
  const double size = recent.rate > 0 ? recent.rate : -recent.rate;
  const double before = recent.rate > 0 ? older.rate : -older.rate;
  if (!(size > 2 * recent.uncertainty) || !(older.ago > recent.ago)) return std::nullopt;
  const double doubt = std::sqrt(recent.uncertainty * recent.uncertainty +
                                 older.uncertainty * older.uncertainty);
  if (!(before - size > 2 * doubt)) return std::nullopt;
  // ln(before / size) = 2 artanh(z); the series to z^9 is good to 1e-3 up to a ratio of 10.
  const double z = (before - size) / (before + size), zz = z * z;
  const double log =
      2 * z * (1 + zz * (1.0 / 3 + zz * (1.0 / 5 + zz * (1.0 / 7 + zz * (1.0 / 9)))));
  const double tau = (older.ago - recent.ago) / log;
  const double x = recent.ago / tau;
  const double decay = 1 / (1 + x * (1 + x / 2 * (1 + x / 3 * (1 + x / 4))));  // e^-x
  return approach{tau, recent.rate * decay * tau};
}

}  // namespace stilling
