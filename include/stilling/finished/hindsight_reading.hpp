// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#pragma once

#include <algorithm>
#include <array>
#include <cmath>
#include <cstddef>
#include <span>

#include "stilling/estimators/noise.hpp"
#include "stilling/estimators/noise_models.hpp"
#include "stilling/estimators/settled_start.hpp"
#include "stilling/estimators/tally.hpp"
#include "stilling/estimators/uncertainty.hpp"
#include "stilling/estimators/weighted_line.hpp"
#include "stilling/finished/kept_rows.hpp"

/// What one channel reads over some rows, all of them known: the mean, what it is worth, how fast
/// it still moves. A line through noise of density d over T seconds is uncertain by
/// sqrt(12 d / T^3).
namespace stilling {

/// Number of the first of these rows worth averaging; `first` where the rows are too few to say.
[[nodiscard]] inline std::size_t first_settled_row(channel c, const kept_rows& rows,
                                                   std::size_t first, std::size_t last,
                                                   double shortest) {
  const auto own = rows.series(c, first, last);
  const auto part = settled_start(own.t, own.y, shortest);
  return part ? own.row[part->first] : first;
}

/// Variance of a mean over T seconds, times T: as neighbouring values tell about a line through
/// them, and as slow noise tells in batches of the whole plateau.
[[nodiscard]] inline double noise_density(const weighted_line& line, const channel_series& own,
                                          const channel_series& whole) noexcept {
  double steps = 0;
  for (std::size_t i = 1; i < own.y.size(); ++i)
    steps += (own.y[i] - own.y[i - 1]) * (own.y[i] - own.y[i - 1]);
  const double count = static_cast<double>(own.y.size()), variance = line.variance();
  const double spacing = (own.t.back() - own.t.front()) / (count - 1);
  const double lag_one = variance > 0 ? 1 - steps / (count - 1) / (2 * variance) : 0;
  const double by_neighbours =
      variance * spacing * variance_inflation(corrected_autocorrelation(lag_one, count));
  batch_noise slow;
  for (std::size_t i = 0; i < whole.y.size(); ++i)
    slow.update(instant{duration_from_seconds(whole.t[i]).value_or(duration{0})}, whole.y[i]);
  return std::max(by_neighbours, slow.slow().limit);
}

/// The newest pieces of five seconds, or single values where they come more slowly.
struct piece_means {
  std::array<timed_value, noise_models::most> at{};
  std::size_t count = 0;
  double within = 0;  // variance of the values within a piece
  double values = 0;  // in a piece, on average
  double from = 0;    // time of the first value
};

[[nodiscard]] inline piece_means pieces_of(const channel_series& own) noexcept {
  piece_means out;
  double squares = 0, used = 0;
  for (std::size_t end = own.y.size(); end > 0 && out.count < noise_models::most;) {
    running_moments values;
    std::size_t i = end;
    while (i > 0 && own.t[end - 1] - own.t[i - 1] < noise_models::piece) values.push(own.y[--i]);
    out.from = own.t[i];
    out.at[noise_models::most - ++out.count] = {own.t[i], values.mean()};
    squares += values.variance().value_or(0) * static_cast<double>(values.count() - 1);
    used += static_cast<double>(values.count());
    end = i;
  }
  out.within = squares / used;
  out.values = used / static_cast<double>(out.count);
  return out;
}

/// By its newest pieces, as live; where they are too few by the density of the noise.
[[nodiscard]] inline tally::worth worth_of(const channel_series& own, double density,
                                           double step) noexcept {
  tally all;
  for (const double y : own.y) all.push(y, 0);
  const double length = own.t.back() - own.t.front();
  const piece_means means = pieces_of(own);
  const noise_models noise{std::span{means.at}.last(means.count), step * step / 12 / means.values};
  if (noise.known()) {
    const double longer = length / (own.t.back() - means.from);
    return all.of_mean(noise, means.within, longer, step);
  }
  all.note_noise(all.variance().value_or(0), density);
  return all.of_mean(length, step);
}

/// The mean from row `first` on, of a plateau from row `begin` to `last`. `confidence` of the
/// rate's bound, one-sided. Count 0: the channel has no value there.
[[nodiscard]] inline channel_reading hindsight_reading(channel c, const kept_rows& rows,
                                                       std::size_t begin, std::size_t first,
                                                       std::size_t last, double shortest,
                                                       double confidence) {
  channel_reading r;
  const auto own = rows.series(c, first, last);
  const std::size_t n = own.y.size();
  r.count = static_cast<std::uint32_t>(n);
  if (n == 0) return r;
  for (std::size_t i = first; i <= last; ++i) r.set_aside += rows[i].set_aside.contains(c);
  r.step = rows.step(c);
  r.lag = rows.lag(c);
  r.coverage = static_cast<double>(n) / static_cast<double>(last - first + 1);
  weighted_line line;
  for (std::size_t i = 0; i < n; ++i) {
    line.push(own.t[i], own.y[i]);
    if (i > 0) r.longest_gap = std::max(r.longest_gap, own.t[i] - own.t[i - 1]);
  }
  r.mean = line.y;
  for (std::size_t i = last + 1; i-- > 0 && (rows[i].burning || i >= first);)
    if (rows[i].usable.contains(c))
      r.peak = std::max(r.peak.value_or(rows[i].x[index_of(c)]), rows[i].x[index_of(c)]);

  const double rounding = r.step * r.step / 12, length = own.t.back() - own.t.front();
  const double variance = line.variance();
  if (n < 4 || !(length > 0)) {
    r.effective_count = static_cast<double>(n);
    r.degrees_of_freedom = 1;
    r.standard_uncertainty = std::sqrt(variance / static_cast<double>(n) + rounding);
    return r;
  }
  const auto whole = rows.series(c, begin, last);
  const double density = noise_density(line, own, whole);
  if (const auto part = settled_start(whole.t, whole.y, shortest)) r.remaining = part->remaining;
  const tally::worth worth = worth_of(own, density, r.step);
  const uncertainty u = tally::stated(worth, std::nullopt);
  r.effective_count = worth.effective_count;
  r.degrees_of_freedom = u.degrees_of_freedom;
  r.standard_uncertainty = u.standard;
  r.rate = line.rate();
  r.rate_bound = std::abs(r.rate) + student_t(confidence, r.degrees_of_freedom) *
                                        std::sqrt(12 * density / length) / length;
  return r;
}

}  // namespace stilling
