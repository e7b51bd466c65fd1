// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#pragma once

#include <algorithm>
#include <array>
#include <cstddef>

#include "stilling/estimators/exponential.hpp"
#include "stilling/terms/expects.hpp"

/// A quantity known as a mixture of normal distributions, and its quantiles.
namespace stilling {

/// The share of a standard normal distribution below `z`, within 8e-8 (Abramowitz and Stegun,
/// Handbook of Mathematical Functions, 1964, 7.1.26).
[[nodiscard]] constexpr double normal_share_below(double z) noexcept {
  const double size = z < 0 ? -z : z, x = size / 1.41421356237309504880;
  const double k = 1 / (1 + 0.3275911 * x);
  const double polynomial =
      k * (0.254829592 +
           k * (-0.284496736 + k * (1.421413741 + k * (-1.453152027 + k * 1.061405429))));
  const double beyond = polynomial * decay(x * x) / 2;
  return z < 0 ? beyond : 1 - beyond;
}

struct bell {
  double centre = 0;
  double width = 0;  // standard deviation; 0: a point
  double mass = 1;   // relative to the others
};

template <std::size_t Most> class mixture {
 public:
  constexpr void add(const bell& b) noexcept {
    STILLING_EXPECTS(count_ < Most && b.width >= 0 && b.mass >= 0);
    bells_[count_++] = b;
    total_ += b.mass;
    const double reach = 6 * b.width;
    low_ = count_ == 1 ? b.centre - reach : std::min(low_, b.centre - reach);
    high_ = count_ == 1 ? b.centre + reach : std::max(high_, b.centre + reach);
  }
  [[nodiscard]] constexpr std::size_t size() const noexcept { return count_; }

  /// What the share `q` lies below; of at least one bell. To 2^-40 of the range of the bells.
  [[nodiscard]] constexpr double quantile(double q) const noexcept {
    STILLING_EXPECTS(count_ > 0 && q > 0 && q < 1);
    double low = low_, high = high_;
    for (int halvings = 0; halvings < 40; ++halvings) {
      const double middle = (low + high) / 2;
      (mass_below(middle) > q * total_ ? high : low) = middle;
    }
    return (low + high) / 2;
  }

 private:
  [[nodiscard]] constexpr double mass_below(double x) const noexcept {
    double below = 0;
    for (std::size_t i = 0; i < count_; ++i) {
      const bell& b = bells_[i];
      if (b.width > 0) below += b.mass * normal_share_below((x - b.centre) / b.width);
      else if (b.centre <= x) below += b.mass;
    }
    return below;
  }

  std::array<bell, Most> bells_{};
  std::size_t count_ = 0;
  double total_ = 0, low_ = 0, high_ = 0;
};

}  // namespace stilling
