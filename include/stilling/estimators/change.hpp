// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#pragma once

#include <algorithm>
#include <cmath>
#include <cstdint>
#include <optional>

#include "stilling/terms/time.hpp"

/// Has a signal left its level? Deviations from where it should be go in, one per row. A departure
/// begins with the first row on one side that is on its way; it has left when the mean of the rows
/// since it first got there lies beyond what is allowed, and beyond what noise makes of a mean of
/// so many. A lone spike or one display step is not a departure; a departure is answered within
/// seconds.
namespace stilling {

/// What is no departure, in the deviations' unit.
struct allowance {
  double least = 0;      // however quiet the signal
  double spread = 0;     // standard deviation of a value
  double inflation = 1;  // of a mean's variance by autocorrelation; 1 or more
  double deviations = 0;  // so many standard deviations of a mean
};

class departure {
 public:
  constexpr void update(instant t, double deviation, const allowance& a) noexcept {
    const int side = deviation > 0 ? 1 : -1;
    const double size = std::abs(deviation);
    const bool on_its_way = size > std::max(onset_share * a.least, onset_spread * a.spread);
    if (!on_its_way || side != side_) {
      side_ = on_its_way ? side : 0;
      begin(t);
    }
    if (side_ == 0) return;
    // A slow drift on one side is no beginning of a departure.
    if (!away_ && t - onset_ > longest_onset) begin(t);
    ++rows_;
    newest_ = t;
    if (size < there_share * a.least) {
      there_ = 0, mean_ = 0;
      away_ = false;
      return;
    }
    ++there_;
    mean_ += (size - mean_) / there_;
    const double n = there_;
    const double share = (1 + (a.inflation - 1) * (n - 1) / n) / n;
    const double of_mean = a.spread * std::sqrt(std::min(share, 1.0));
    const double needed = std::max(a.least, a.deviations * of_mean);
    away_ = mean_ > needed && size > there_share * needed;
  }

  /// Rows of the departure, and how long since its onset; none while it may yet be noise.
  [[nodiscard]] constexpr std::uint32_t rows() const noexcept { return away_ ? rows_ : 0; }
  [[nodiscard]] constexpr duration lasted() const noexcept {
    return away_ ? newest_ - onset_ : duration{0};
  }
  /// First row on its way.
  [[nodiscard]] constexpr std::optional<instant> onset() const noexcept {
    if (!away_) return std::nullopt;
    return onset_;
  }
  constexpr void clear() noexcept { *this = {}; }

 private:
  static constexpr duration longest_onset = seconds(15);
  static constexpr double onset_share = 0.3;   // nearly a third of the way is on its way
  static constexpr double onset_spread = 1.5;  // standard deviations likewise
  static constexpr double there_share = 0.8;   // not on its way there, nor on its way back

  constexpr void begin(instant t) noexcept {
    onset_ = t;
    rows_ = there_ = 0;
    mean_ = 0;
    away_ = false;
  }

  int side_ = 0;
  bool away_ = false;
  std::uint32_t rows_ = 0, there_ = 0;
  double mean_ = 0;
  instant onset_{}, newest_{};
};

}  // namespace stilling
