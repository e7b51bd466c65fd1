// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#pragma once

#include <algorithm>
#include <array>
#include <cmath>
#include <cstddef>
#include <span>
#include <utility>
#include <vector>

/// A finished series, fit to be analysed: finite, in order of time, freed of single wild values.
///
/// Rows that are not finite, or whose stamp does not advance, are passed over. Values are clipped
/// to four robust deviations (1.4826 times the median deviation) about the median of nine rows, or
/// two display steps, whichever is wider; what lasts five rows is never clipped.
namespace stilling {

class finished_series {
 public:
  /// `seconds` and `values` side by side; `step` of the display, 0: none; `longest_gap` in seconds.
  finished_series(std::span<const double> seconds, std::span<const double> values, double step,
                  double longest_gap)
      : step_{step}, longest_gap_{longest_gap} {
    keep(seconds, values);
    clip();
  }

  [[nodiscard]] std::size_t size() const noexcept { return t_.size(); }
  [[nodiscard]] double t(std::size_t row) const noexcept { return t_[row]; }
  [[nodiscard]] double y(std::size_t row) const noexcept { return y_[row]; }
  [[nodiscard]] std::span<const double> seconds() const noexcept { return t_; }
  [[nodiscard]] std::span<const double> values() const noexcept { return y_; }
  [[nodiscard]] double step() const noexcept { return step_; }
  /// Seconds from row to row, as a rule; 0 below two rows.
  [[nodiscard]] double spacing() const noexcept { return spacing_; }
  /// Whether more than the longest gap lies between a row and the one before.
  [[nodiscard]] bool silent_before(std::size_t row) const noexcept {
    return row > 0 && row < t_.size() && t_[row] - t_[row - 1] > longest_gap_;
  }

 private:
  void keep(std::span<const double> seconds, std::span<const double> values) {
    const std::size_t n = std::min(seconds.size(), values.size());
    for (std::size_t i = 0; i < n; ++i) {
      if (!std::isfinite(seconds[i]) || !std::isfinite(values[i])) continue;
      if (!t_.empty() && !(seconds[i] > t_.back())) continue;
      t_.push_back(seconds[i]);
      y_.push_back(values[i]);
    }
  }

  static double median(std::vector<double> of) {
    if (of.empty()) return 0;
    const auto middle = of.begin() + static_cast<std::ptrdiff_t>(of.size() / 2);
    std::nth_element(of.begin(), middle, of.end());
    return *middle;
  }

  void clip() {
    const std::size_t n = y_.size();
    std::vector<double> centre(n), off(n), steps;
    for (std::size_t i = 0; i < n; ++i) {
      const std::size_t arm = std::min({std::size_t{4}, i, n - 1 - i});
      std::array<double, 9> near{};
      std::copy_n(y_.begin() + static_cast<std::ptrdiff_t>(i - arm), 2 * arm + 1, near.begin());
      std::nth_element(near.begin(), near.begin() + static_cast<std::ptrdiff_t>(arm),
                       near.begin() + static_cast<std::ptrdiff_t>(2 * arm + 1));
      centre[i] = near[arm];
      off[i] = std::abs(y_[i] - centre[i]);
      if (i > 0) steps.push_back(t_[i] - t_[i - 1]);
    }
    spacing_ = median(std::move(steps));
    const double wide = 4 * std::max(1.4826 * median(off), step_ / 2);
    for (std::size_t i = 0; i < n; ++i)
      y_[i] = std::clamp(y_[i], centre[i] - wide, centre[i] + wide);
  }

  double step_, longest_gap_;
  double spacing_ = 0;
  std::vector<double> t_, y_;
};

}  // namespace stilling
