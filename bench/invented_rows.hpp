// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#pragma once

#include <algorithm>
#include <array>
#include <cmath>
#include <cstddef>
#include <cstdint>

#include "stilling/items/frame.hpp"

/// What the costs are measured on: an invented burner that cycles for ever, all eight channels in
/// every row. Half an hour each: a minute of fresh air, 24 minutes of fire, then it is out. Noise
/// leans on itself for three seconds, every channel moves in the steps of a display. The same rows
/// each time.
namespace stilling::bench {

class invented_rows {
 public:
  explicit invented_rows(double per_second) noexcept
      : apart_{duration_from_seconds(1 / per_second).value_or(seconds(1))},
        memory_{std::exp(-1 / (3 * per_second))} {}

  frame next() noexcept {
    const double t = std::fmod(in_seconds(at_ - instant{}), 1800);
    const double since_lit = std::max(0.0, std::min(t, 1500.0) - 60), out = std::max(0.0, t - 1500);
    const double cold = t < 60 ? 1 : std::exp(-out / 20) * (std::exp(-since_lit / 60) - 1) + 1;
    const double hot = (1 - std::exp(-since_lit / 150)) * std::exp(-out / 200);
    const double lit = 1 - cold;
    constexpr double degree = 1 / 1.8, inch = 249.08891, ppm = 1e-6;
    frame f;
    f.at = at_;
    f.line = ++line_;
    show(f, channel::stack_temp, 293.15 + 215 * hot, 0.7 * degree, degree);
    show(f, channel::ambient_temp, 293.15 + hot, 0.2 * degree, degree);
    show(f, channel::o2, 0.209 - 0.155 * lit, 0.0004 * lit, 0.001);
    show(f, channel::co2, 0.115 * lit, 0.0004 * lit, 0.001);
    show(f, channel::co, (20 + 150 * std::exp(-since_lit / 40)) * ppm * lit, ppm * lit, ppm);
    show(f, channel::no, 60 * ppm * lit, ppm * lit, ppm);
    show(f, channel::draft_breech, -0.045 * inch * hot, 0.002 * inch, 0.001 * inch);
    show(f, channel::draft_overfire, -0.02 * inch * hot, 0.002 * inch, 0.001 * inch);
    at_ += apart_;
    return f;
  }

 private:
  void show(frame& f, channel c, double x, double noise, double step) noexcept {
    double& wander = wander_[index_of(c)];
    wander = memory_ * wander + std::sqrt(1 - memory_ * memory_) * dice();
    f.indication.set(c, std::round((x + noise * wander) / step) * step);
    f.written_step[index_of(c)] = step;
  }

  /// Mean 0, standard deviation 1, nearly normal.
  double dice() noexcept {
    double sum = 0;
    for (int i = 0; i < 3; ++i) {
      state_ = state_ * 6364136223846793005U + 1442695040888963407U;
      sum += static_cast<double>(state_ >> 40) / (1U << 24) - 0.5;
    }
    return 2 * sum;
  }

  instant at_{};
  duration apart_;
  double memory_;
  std::uint64_t line_ = 0, state_ = 1;
  std::array<double, channel_count> wander_{};
};

}  // namespace stilling::bench
