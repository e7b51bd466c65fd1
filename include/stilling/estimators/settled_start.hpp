// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#pragma once

#include <algorithm>
#include <array>
#include <cstddef>
#include <optional>
#include <span>

#include "stilling/estimators/exponential.hpp"
#include "stilling/estimators/uncertainty.hpp"

/// From where on should a finished plateau be averaged? Cutting early keeps the creep at its start,
/// cutting late keeps few values: the cut is where the squared standard error of the mean plus its
/// squared bias is smallest.
///
/// The squared standard error is the one of Clark, Cole and Michel (2024): autocovariances with
/// Bartlett weights up to a root-n lag, over n. They let it find the creep too, as if that were
/// noise; here the creep is fitted (a + b e^(-t/tau), least squares, tau on a grid) and the noise
/// is what remains, which knows better how much of either there is. A creep no larger than chance
/// makes one in twenty times (chi-square, two degrees of freedom) is taken for none.
/// `remaining` speaks of that exponential alone: a slower part, if one follows, is not in it.
namespace stilling {

struct settled_part {
  std::size_t first = 0;    // number of the first row to average
  double variance = 0;      // of the mean from there on, by its noise
  double density = 0;       // of the noise: variance of a mean over T seconds, times T
  double remaining = 0;     // what the mean lacks of the value it is heading for, signed
};

/// `seconds` rising. At least `shortest` seconds are kept. Nothing below eight time bins or for a
/// span below twice that.
[[nodiscard]] inline std::optional<settled_part> settled_start(std::span<const double> seconds,
                                                               std::span<const double> values,
                                                               double shortest) noexcept {
  constexpr std::size_t most = 256;
  std::array<double, most> sum{}, count{};
  const std::size_t rows = std::min(seconds.size(), values.size());
  if (rows < 16 || !(shortest > 0)) return std::nullopt;
  const double from = seconds[0], length = seconds[rows - 1] - from;
  if (!(length >= 2 * shortest)) return std::nullopt;
  const std::size_t bins = std::min(most, rows / 2);
  const double width = length / static_cast<double>(bins);
  const auto bin_of = [&](double t) {
    return std::min(bins - 1, static_cast<std::size_t>((t - from) / width));
  };
  for (std::size_t i = 0; i < rows; ++i) {
    sum[bin_of(seconds[i])] += values[i] - values[0];
    count[bin_of(seconds[i])] += 1;
  }
  double n = 0, mean = 0;
  for (std::size_t k = 0; k < bins; ++k)
    if (count[k] > 0) sum[k] /= count[k], n += 1, mean += sum[k];
  if (n < 8) return std::nullopt;
  mean /= n;

  struct creep {
    double step = 1, mean = 0, size = 0, left = 1;  // step: e^(-width/tau)
  } best;
  for (double tau = length / 64; tau <= length / 2; tau *= 1.19) {  // a quarter of an octave
    creep c{decay(width / tau)};
    double power = 1;
    for (std::size_t k = 0; k < bins; ++k, power *= c.step)
      if (count[k] > 0) c.mean += power;
    c.mean /= n;
    double ee = 0, ez = 0;
    power = 1;
    for (std::size_t k = 0; k < bins; ++k, power *= c.step) {
      if (!(count[k] > 0)) continue;
      ee += (power - c.mean) * (power - c.mean);
      ez += (power - c.mean) * (sum[k] - mean);
    }
    c.size = ee > 0 ? ez / ee : 0;
    c.left = -c.size * ez;  // the squares, less what all fits share; never above 0
    if (c.left < best.left) best = c;
  }

  std::array<double, most> creeping{}, noise{};
  double power = 1;
  std::size_t known = 0;
  for (std::size_t k = 0; k < bins; ++k, power *= best.step) {
    creeping[k] = best.size * power;
    if (count[k] > 0) noise[known++] = sum[k] - mean - best.size * (power - best.mean);
  }
  // Level and creep, being fitted, each take (lags + 1)/n of what is slow.
  const auto lags = std::min(known / 4, static_cast<std::size_t>(2 * square_root(n) + 0.5));
  const double spared = n - 2 * static_cast<double>(lags + 1);
  double density = 0;
  for (std::size_t lag = 0; lag <= lags; ++lag) {
    double products = 0;
    for (std::size_t k = lag; k < known; ++k) products += noise[k] * noise[k - lag];
    const double bartlett = 1 - static_cast<double>(lag) / static_cast<double>(lags + 1);
    density += (lag == 0 ? 1 : 2) * bartlett * products / spared;
  }

  constexpr double chance = 5.991;
  if (-best.left < chance * density) creeping = {};

  settled_part out;
  std::size_t cut = bins;
  double least = 0, kept = 0, bias = 0;
  for (std::size_t k = bins; k-- > 0;) {
    if (!(count[k] > 0)) continue;
    kept += 1;
    bias += (creeping[k] - bias) / kept;
    if (width * static_cast<double>(bins - k) < shortest) continue;
    const double error = density / kept + bias * bias;
    if (cut < bins && error > least) continue;
    cut = k;
    least = error;
    out.variance = density / kept;
    out.remaining = -bias;
  }
  out.density = density * width;
  while (out.first + 1 < rows && bin_of(seconds[out.first]) < cut) ++out.first;
  return out;
}

}  // namespace stilling
