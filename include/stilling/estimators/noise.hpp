// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#pragma once

#include <array>
#include <cstddef>

#include "stilling/estimators/uncertainty.hpp"
#include "stilling/terms/time.hpp"

/// How noisy is a mean? Slow noise hides from neighbouring values, so their autocorrelation alone
/// makes a mean look better than it is. Here the scatter of batch means is measured at rising batch
/// lengths by second differences, which a straight drift does not touch (the Hadamard variance,
/// W. J. Riley, NIST SP 1065, 2008, 5.2.9): the longest-lived noise shows at the longest batches.
namespace stilling {

class batch_noise {
 public:
  struct estimate {
    double density = 0;  // variance of a mean over T seconds, times T; 0: not known yet
    double freedom = 0;  // degrees of freedom of that, roughly; 0: not known yet
    double limit = 0;    // where the density is heading for batches still longer
  };

  /// A value; batches of at least five seconds are formed here.
  constexpr void update(instant t, double x) noexcept {
    if (batch_.count() > 0 && t - from_ >= seconds(5)) {
      const double length = in_seconds(t - from_);
      if (base_ > 0 && length > 2.5 * base_) {
        interrupt();
      } else {
        base_ = base_ > 0 ? base_ + (length - base_) / 8 : length;
        push(0, batch_.mean());
        slow_ = summed_up();
      }
      batch_ = {};
    }
    if (batch_.count() == 0) from_ = t;
    batch_.push(x);
  }

  /// What comes next does not join on to what was: a gap, a departure. What was learnt stays.
  constexpr void interrupt() noexcept {
    for (auto& l : levels_) l.known = 0, l.half = false;
    batch_ = {};
  }

  constexpr void clear() noexcept { *this = {}; }

  /// The largest density any batch length shows, less what chance adds where few were seen. A noise
  /// of correlation time c falls short by c / length, so what one doubling gained, all the further
  /// ones together gain once more (Richardson); `limit` adds that.
  [[nodiscard]] constexpr const estimate& slow() const noexcept { return slow_; }

 private:
  static constexpr std::size_t level_count = 4;  // batches of 1, 2, 4, 8
  static constexpr double least = 4;             // second differences a level needs to speak
  static constexpr double memory = 200;          // of them before the old ones fade

  struct level {
    double newest = 0, before = 0, waiting = 0;
    int known = 0;
    bool half = false;
    double squares = 0, count = 0;
  };

  constexpr void push(std::size_t i, double mean) noexcept {
    level& l = levels_[i];
    if (l.known == 2) {
      const double d = mean - 2 * l.newest + l.before;
      l.squares += d * d;
      l.count += 1;
      if (l.count > memory) l.squares /= 2, l.count /= 2;
    } else {
      ++l.known;
    }
    l.before = l.newest;
    l.newest = mean;
    if (i + 1 == level_count) return;
    if (l.half) push(i + 1, (l.waiting + mean) / 2);
    l.waiting = mean;
    l.half = !l.half;
  }

  [[nodiscard]] constexpr estimate summed_up() const noexcept {
    estimate most;
    double length = base_, before = 0;
    for (const level& l : levels_) {
      if (l.count < least) break;
      const double full = l.squares / (6 * l.count) * length;
      const double here = full * (1 - 1 / square_root(l.count));
      if (here > most.density) {
        most.density = here;
        most.freedom = l.count / 2;
      }
      const double heading = before > 0 && full > before ? 2 * full - before : full;
      if (heading > most.limit) most.limit = heading;
      before = full;
      length *= 2;
    }
    return most;
  }

  std::array<level, level_count> levels_{};
  estimate slow_{};  // asked for at every row, new with every batch
  running_mean batch_;
  instant from_{};
  double base_ = 0;  // seconds of a base batch, on average
};

}  // namespace stilling
