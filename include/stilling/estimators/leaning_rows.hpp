// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#pragma once

#include <array>
#include <cstddef>
#include <span>

#include "stilling/estimators/condensed_past.hpp"
#include "stilling/estimators/exponential.hpp"
#include "stilling/estimators/uncertainty.hpp"

/// Rows whose noise leans on the row before by nobody knows how much: a handful of candidates is
/// carried side by side, and the rows themselves tell later which are likely. Whitened under a
/// candidate, a row is freed of what the one before explains: (x - phi x') / sqrt(1 - phi^2) with
/// phi = e^(-dt/theta), first-order autoregressive noise in continuous time at uneven stamps.
namespace stilling {

class leaning_rows {
 public:
  /// Correlation of rows at the mean distance.
  static constexpr std::array<double, 8> candidates{0, 0.3, 0.5, 0.65, 0.77, 0.86, 0.92, 0.96};
  static constexpr std::size_t count = candidates.size();

  struct lean {
    double by = 0, weight = 1;
    [[nodiscard]] constexpr double free(double now, double before) const noexcept {
      return (now - by * before) * weight;
    }
  };

  /// At least two rows of rising time; they must outlive this.
  explicit constexpr leaning_rows(std::span<const condensed_rows> rows) noexcept : rows_{rows} {
    const double apart = length() / static_cast<double>(rows.size() - 1);
    for (std::size_t p = 1; p < count; ++p) theta_[p] = apart / natural_log(1 / candidates[p]);
  }

  [[nodiscard]] constexpr std::size_t size() const noexcept { return rows_.size(); }
  [[nodiscard]] constexpr double length() const noexcept { return rows_.back().t - rows_[0].t; }
  /// Seconds since the first of these rows.
  [[nodiscard]] constexpr double t(std::size_t row) const noexcept {
    return rows_[row].t - rows_[0].t;
  }
  [[nodiscard]] constexpr double y(std::size_t row) const noexcept { return rows_[row].y; }
  [[nodiscard]] constexpr double y_before(std::size_t row) const noexcept {
    return row > 0 ? rows_[row - 1].y : 0;
  }

  /// How row number `row` leans on the one before under candidate `p`; the first leans on none.
  [[nodiscard]] constexpr lean of(std::size_t p, std::size_t row) const noexcept {
    if (p == 0 || row == 0) return {};
    const double phi = decay((rows_[row].t - rows_[row - 1].t) / theta_[p]);
    const double by = phi < most ? phi : most;
    return {by, 1 / square_root(1 - by * by)};
  }

  /// The mean of e^(-t/tau) over what the row stands for, to second order in its length.
  [[nodiscard]] constexpr double decayed(std::size_t row, double tau) const noexcept {
    return decay(t(row) / tau) * (1 + rows_[row].spread / (2 * tau * tau));
  }

 private:
  static constexpr double most = 0.995;  // however close two rows are

  std::span<const condensed_rows> rows_;
  std::array<double, count> theta_{};
};

}  // namespace stilling
