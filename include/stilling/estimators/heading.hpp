// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#pragma once

#include <algorithm>
#include <array>
#include <cmath>
#include <cstddef>
#include <optional>

#include "stilling/estimators/change.hpp"
#include "stilling/terms/time.hpp"

/// Where a steady signal is heading, and whether it has left: expectations are laid down every few
/// seconds, and new values are held against the one from some twenty seconds ago, which a departure
/// under way cannot have touched.
namespace stilling {

class heading {
 public:
  /// What is known of the trend at `t`. A rate that noise could explain is not carried forward.
  struct outlook {
    double level = 0;        // of the trend line at its newest end
    double rate = 0;         // per second
    double uncertainty = 0;  // of the rate, standard
    double span = 0;         // seconds the line covers
    double scatter = 0;      // about the line
    double inflation = 1;    // of a mean's variance by autocorrelation
  };
  /// True when this laid down a new expectation.
  constexpr bool expect(instant t, const outlook& o) noexcept {
    if (known_ > 0 && t - past_[0].at < apart) return false;
    for (std::size_t i = kept - 1; i > 0; --i) past_[i] = past_[i - 1];
    const double size = std::abs(o.rate);
    const double doubtful = 2 * o.uncertainty;
    const double share = size > doubtful ? 1 - doubtful / size : 0;
    const double to_middle = o.span / 2;  // from the line's end back to its firm middle
    past_[0] = {t, o.level - (1 - share) * o.rate * to_middle, share * o.rate, o.scatter,
                std::min(o.inflation, most_inflation)};
    if (known_ < kept) ++known_;
    return true;
  }

  /// Holds a value against what was expected. Away is what lies beyond `least`, so many standard
  /// deviations of a mean, and a little more than one display step.
  constexpr void watch(instant t, double x, double least, double deviations, double step) noexcept {
    if (known_ == 0) return;
    const expectation& e = past_[known_ - 1];
    const double expected = e.level + e.rate * in_seconds(t - e.at);
    leaving_.update(t, x - expected,
                    {std::max(least, 1.25 * step), e.spread, e.inflation, deviations});
  }

  /// Away for at least so many rows on end, since an onset `lasting` ago or longer.
  [[nodiscard]] constexpr bool has_left(std::uint32_t rows, duration lasting) const noexcept {
    return leaving_.rows() >= rows && leaving_.lasted() >= lasting;
  }
  [[nodiscard]] constexpr std::uint32_t rows_away() const noexcept { return leaving_.rows(); }
  [[nodiscard]] constexpr std::optional<instant> onset() const noexcept { return leaving_.onset(); }
  constexpr void clear() noexcept { *this = {}; }

 private:
  static constexpr std::size_t kept = 5;
  static constexpr duration apart = seconds(5);
  static constexpr double most_inflation = 8;  // more is a bend of the trend

  struct expectation {
    instant at{};
    double level = 0, rate = 0;
    double spread = 0;  // standard deviation of a value about the expected one
    double inflation = 1;
  };

  std::array<expectation, kept> past_{};  // newest first
  std::size_t known_ = 0;
  departure leaving_{};
};

}  // namespace stilling
