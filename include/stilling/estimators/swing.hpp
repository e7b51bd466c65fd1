// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#pragma once

#include <cmath>
#include <optional>

/// The trend of a signal that swings: two neighbouring spans of whole periods, in whose means the
/// swing cancels, and the rate from one to the other. A straight line through a swing would still
/// move with its phase, by 6 A / (pi k W) over k periods of amplitude A in a window W.
namespace stilling {

struct swing_facts {
  double period = 0;      // seconds, crest to crest; above 0
  double noise = 0;       // standard deviation of what is not swing
  double scatter = 0;     // standard deviation about a straight line, swing included
  double spacing = 0;     // seconds between values; above 0
  double least_span = 0;  // seconds both spans together cover at least
};

struct swing_trend {
  double rate = 0;         // per second
  double uncertainty = 0;  // of the rate, standard
  double level = 0;        // at the newest value
  double span = 0;         // seconds both spans cover
  double amplitude = 0;    // half the swing
  double density = 0;      // variance of a mean over T seconds, times T
};

[[nodiscard]] constexpr double amplitude_of(const swing_facts& f) noexcept {
  const double rest = f.scatter * f.scatter - f.noise * f.noise;
  return rest > 0 ? std::sqrt(2 * rest) : 0;
}

/// `line` answers `mean_between(from, to)`, ages in seconds; nothing where it does not reach back.
template <class Line>
[[nodiscard]] constexpr std::optional<swing_trend> trend_in_swing(const Line& line,
                                                                  const swing_facts& f) noexcept {
  constexpr double period_doubt = 0.06;  // share of a swing that whole periods leave over
  constexpr double correlation = 1.5;    // inflation of what fast noise there is
  double half = f.period;
  while (2 * half < f.least_span) half += f.period;
  const auto later = line.mean_between(half, 0), earlier = line.mean_between(2 * half, half);
  if (!later || !earlier) return std::nullopt;
  const double amplitude = amplitude_of(f);
  const double left_over = period_doubt * amplitude;
  const double fast = correlation * f.noise * f.noise;
  swing_trend out;
  out.rate = (*later - *earlier) / half;
  out.uncertainty = std::sqrt(2 * (fast * f.spacing / half + left_over * left_over)) / half;
  out.level = *later + out.rate * half / 2;
  out.span = 2 * half;
  out.amplitude = amplitude;
  out.density = fast * f.spacing + amplitude * amplitude * f.period / 20;
  return out;
}

}  // namespace stilling
