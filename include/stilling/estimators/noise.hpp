// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#pragma once

#include <array>
#include <cstddef>

/// How noisy is a mean? Slow noise hides from neighbouring values, so their autocorrelation alone
/// makes a mean look better than it is. Here the scatter of batch means is measured at rising batch
/// lengths by second differences, which a straight drift does not touch (the Hadamard variance,
/// W. J. Riley, NIST SP 1065, 2008, 5.2.9): the longest-lived noise shows at the longest batches.
namespace stilling {

class batch_noise {
 public:
  /// The mean of the next batch of base length.
  constexpr void push(double mean) noexcept { push(0, mean); }

  /// What comes next does not join on to what was: a gap, a departure. What was learnt stays.
  constexpr void interrupt() noexcept {
    for (auto& l : levels_) l.known = 0, l.half = false;
  }

  /// Variance of a mean over T seconds, times T, for base batches so many seconds apart: the
  /// largest that any batch length shows. 0 where nothing was seen yet.
  [[nodiscard]] constexpr double density(double base_seconds) const noexcept {
    double most = 0;
    for (std::size_t i = 0; i < level_count; ++i) {
      const level& l = levels_[i];
      if (l.count < least) break;
      const double here = l.squares / (6 * l.count) * base_seconds * static_cast<double>(1U << i);
      if (here > most) most = here;
    }
    return most;
  }

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

  std::array<level, level_count> levels_{};
};

}  // namespace stilling
