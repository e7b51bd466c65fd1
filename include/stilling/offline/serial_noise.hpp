// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#pragma once

#include <algorithm>
#include <cstddef>
#include <utility>
#include <vector>

#include "stilling/estimators/exponential.hpp"
#include "stilling/estimators/uncertainty.hpp"
#include "stilling/estimators/weighted_line.hpp"
#include "stilling/offline/finished_series.hpp"

/// The noise of a finished series: how large, how long it leans on itself, and how much slower than
/// that it still is. Learnt from stretches over which the series is about a line.
namespace stilling {

/// Numbers of first rows, and one past the last.
using row_bounds = std::vector<std::size_t>;

class serial_noise {
 public:
  static constexpr std::size_t least_rows = 6;  // a shorter stretch teaches nothing

  /// The series must outlive this.
  explicit serial_noise(const finished_series& s) noexcept : series_{s} {}

  /// Of one value, about the line.
  [[nodiscard]] double variance() const noexcept { return variance_; }
  /// Long-run variance over variance, of what whitening leaves; 1 or more.
  [[nodiscard]] double inflation() const noexcept { return inflation_; }
  /// Seconds: values dt apart lean on each other by e^(-dt/this); 0: they do not.
  [[nodiscard]] double time() const noexcept { return noise_time_; }

  /// How much a row leans on the one before: 0 to 0.999, however close they are.
  [[nodiscard]] double phi(std::size_t row) const {
    if (!(noise_time_ > 0)) return 0;
    return std::min(decay((series_.t(row) - series_.t(row - 1)) / noise_time_), 0.999);
  }
  /// A row, freed of what the one before explains.
  void push(weighted_line& to, std::size_t row) const {
    to.push(series_.t(row), series_.y(row), series_.t(row - 1), series_.y(row - 1), phi(row));
  }
  /// The line through rows `first` up to, not with, `last`; the first leans on none.
  [[nodiscard]] weighted_line whitened(std::size_t first, std::size_t last) const {
    weighted_line out;
    out.push(series_.t(first), series_.y(first));
    for (std::size_t i = first + 1; i < last; ++i) push(out, i);
    return out;
  }

  /// What most rows see: the median over stretches, so that one with a step in it does no harm.
  void learn(const row_bounds& firsts) {
    std::vector<std::pair<double, double>> lag_ones, variances, inflations;
    const auto each = [&](const auto& visit) {
      for (std::size_t k = 0; k + 1 < firsts.size(); ++k)
        if (firsts[k + 1] - firsts[k] >= least_rows) visit(firsts[k], firsts[k + 1]);
    };
    noise_time_ = 0;
    each([&](std::size_t first, std::size_t last) {
      const weighted_line plain = whitened(first, last);
      double steps = 0;
      for (std::size_t i = first + 1; i < last; ++i) {
        const double dt = series_.t(i) - series_.t(i - 1);
        const double d = series_.y(i) - series_.y(i - 1) - plain.rate() * dt;
        steps += d * d;
      }
      const double n = plain.rows;
      if (!(plain.variance() > 0)) return;
      // von Neumann's ratio, as in estimators/trend.
      const double lag_one = 1 - steps / (n - 1) / (2 * plain.variance());
      lag_ones.emplace_back(corrected_autocorrelation(lag_one, n), n);
    });
    const double lag_one = weighted_median(std::move(lag_ones));
    if (lag_one > 0.01) noise_time_ = series_.spacing() / natural_log(1 / lag_one);
    each([&](std::size_t first, std::size_t last) {
      const weighted_line line = whitened(first, last);
      variances.emplace_back(line.variance(), line.rows);
      if (line.variance() > 0) inflations.emplace_back(slowness(first, last, line), line.rows);
    });
    // A noise-free series: what is a hundred-thousandth of its range is rounding.
    const auto [low, high] = std::minmax_element(series_.values().begin(), series_.values().end());
    const double rounding = 1e-5 * (*high - *low);
    variance_ = std::max({weighted_median(std::move(variances)), rounding * rounding,
                          series_.step() * series_.step() / 12, 1e-300});
    inflation_ = std::max(1.0, weighted_median(std::move(inflations)));
  }

 private:
  static double weighted_median(std::vector<std::pair<double, double>> of) {
    std::sort(of.begin(), of.end());
    double half = 0;
    for (const auto& [value, weight] : of) half += weight / 2;
    for (const auto& [value, weight] : of)
      if ((half -= weight) <= 0) return value;
    return 0;
  }

  /// Long-run variance of the whitened residuals over their variance: Bartlett weights to lag
  /// root n.
  [[nodiscard]] double slowness(std::size_t first, std::size_t last,
                                 const weighted_line& line) const {
    std::vector<double> left(last - first);
    left[0] = series_.y(first) - line.at(series_.t(first));
    for (std::size_t i = first + 1; i < last; ++i) {
      weighted_line one;
      push(one, i);
      left[i - first] = square_root(one.weight) * (one.y - line.at(one.t));
    }
    const auto n = static_cast<double>(left.size());
    const auto lags = static_cast<std::size_t>(square_root(n) + 0.5);
    double squares = 0, products = 0;
    for (const double x : left) squares += x * x;
    for (std::size_t lag = 1; lag <= lags && lag < left.size(); ++lag) {
      double at_lag = 0;
      for (std::size_t i = lag; i < left.size(); ++i) at_lag += left[i] * left[i - lag];
      products += (1 - static_cast<double>(lag) / static_cast<double>(lags + 1)) * at_lag;
    }
    return squares > 0 ? 1 + 2 * products / squares : 1;
  }

  const finished_series& series_;
  double noise_time_ = 0;
  double variance_ = 0;
  double inflation_ = 1;
};

}  // namespace stilling
