// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#pragma once

#include <algorithm>
#include <array>
#include <cmath>
#include <cstddef>
#include <optional>

#include "stilling/estimators/uncertainty.hpp"
#include "stilling/terms/time.hpp"

/// Does the signal swing, and with what period? Turning points are taken where it comes back by
/// more than its fast noise; when the newest ones are evenly spaced and alike in height, that is
/// a rhythm. Fast noise is told from second differences, which a slow swing or drift hardly
/// touches.
namespace stilling {

class rhythm {
 public:
  /// A value, and the display's step (0: unknown).
  constexpr void update(instant t, double x, double step) noexcept {
    learn_noise(x);
    if (known_ == 0 && rising_ == 0) {
      extreme_ = {t, x};
      rising_ = 1;
    }
    const double ahead = rising_ * (x - extreme_.x);
    if (ahead > 0) {
      extreme_ = {t, x};
    } else if (seen_ > least_seen && -ahead > 1.5 * step && -ahead > noise_factor * noise()) {
      for (std::size_t i = points - 1; i > 0; --i) turns_[i] = turns_[i - 1];
      turns_[0] = extreme_;
      if (known_ < points) ++known_;
      beat_ = evenly_spaced();
      extreme_ = {t, x};
      rising_ = -rising_;
    }
    newest_ = t;
  }

  /// Seconds from crest to crest; nothing where there is no rhythm, or it has stopped.
  [[nodiscard]] constexpr std::optional<double> period() const noexcept {
    if (!beat_ || in_seconds(newest_ - turns_[0].at) > 1.2 * *beat_) return std::nullopt;
    return beat_;
  }

  /// Half of the mean swing, noise taken off as far as it is known; 0 without a rhythm.
  [[nodiscard]] constexpr double amplitude() const noexcept {
    if (!period()) return 0;
    double sum = 0;
    for (std::size_t i = 0; i + 1 < points; ++i) sum += std::abs(turns_[i].x - turns_[i + 1].x);
    return std::max(0.0, sum / static_cast<double>(points - 1) / 2 - noise());
  }

  /// Standard deviation of the fast noise.
  [[nodiscard]] constexpr double noise() const noexcept {
    return weight_ > 0 ? std::sqrt(squares_ / weight_ / 6) : 0;
  }

  constexpr void clear() noexcept { *this = {}; }

 private:
  static constexpr std::size_t points = 5;       // turning points a rhythm needs: two periods
  static constexpr double noise_factor = 3.5;    // standard deviations that are no noise
  static constexpr double evenness = 0.25;        // spread of the periods, of their mean
  static constexpr double likeness = 1.8;        // largest swing over smallest
  static constexpr double shortest = 6, longest = 150;  // seconds
  static constexpr int least_seen = 10;          // values before noise is known

  struct turn {
    instant at{};
    double x = 0;
  };

  /// The mean distance from crest to crest where the turning points show a rhythm.
  [[nodiscard]] constexpr std::optional<double> evenly_spaced() const noexcept {
    if (known_ < points) return std::nullopt;
    double least = 1e300, most = 0, sum = 0;
    for (std::size_t i = 0; i + 2 < points; ++i) {
      const double p = in_seconds(turns_[i].at - turns_[i + 2].at);
      least = std::min(least, p), most = std::max(most, p), sum += p;
    }
    const double mean = sum / static_cast<double>(points - 2);
    if (!(most - least <= evenness * mean) || mean < shortest || mean > longest)
      return std::nullopt;
    double low = 1e300, high = 0;
    for (std::size_t i = 0; i + 1 < points; ++i) {
      const double swing = std::abs(turns_[i].x - turns_[i + 1].x);
      low = std::min(low, swing), high = std::max(high, swing);
    }
    if (high > likeness * low) return std::nullopt;
    return mean;
  }

  constexpr void learn_noise(double x) noexcept {
    if (seen_ >= 2) {
      const double d = x - 2 * before_[0] + before_[1];
      squares_ += d * d;
      weight_ += 1;
      if (weight_ > 120) squares_ /= 2, weight_ /= 2;
    }
    before_[1] = before_[0];
    before_[0] = x;
    if (seen_ <= least_seen) ++seen_;
  }

  std::array<turn, points> turns_{};  // newest first
  std::size_t known_ = 0;
  std::optional<double> beat_;  // of the turning points, while they last
  turn extreme_{};
  int rising_ = 0;
  instant newest_{};
  std::array<double, 2> before_{};
  double squares_ = 0, weight_ = 0;
  int seen_ = 0;
};

/// Swings of every pace: one that is quick shows in the values, a slow one that noise covers shows
/// in means over three seconds.
class rhythms {
 public:
  constexpr void update(instant t, double x, double step) noexcept {
    quick_.update(t, x, step);
    if (few_.count() > 0 && t - from_ >= seconds(3)) {
      slow_.update(from_, few_.mean(), few_.count() < 2 ? step : step / 3);  // a mean dithers
      few_ = {};
    }
    if (few_.count() == 0) from_ = t;
    few_.push(x);
  }
  [[nodiscard]] constexpr std::optional<double> quick() const noexcept { return quick_.period(); }
  [[nodiscard]] constexpr std::optional<double> slow() const noexcept { return slow_.period(); }
  [[nodiscard]] constexpr double noise() const noexcept { return quick_.noise(); }

 private:
  rhythm quick_, slow_;
  running_mean few_;
  instant from_{};
};

}  // namespace stilling
