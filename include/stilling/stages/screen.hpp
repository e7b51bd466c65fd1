// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#pragma once

#include <algorithm>
#include <array>
#include <cstdint>

#include "stilling/estimators/resolution.hpp"
#include "stilling/items/frame.hpp"
#include "stilling/stages/stage.hpp"
#include "stilling/terms/settings.hpp"

/// Marks what a lane should not be believed in: implausible values, outliers against the newest
/// neighbours (Hampel's identifier: median and median absolute deviation), and a channel that stands
/// still although its own earlier dither says it cannot. Marked, never removed.
namespace stilling {

class screen {
 public:
  using emits = items<frame>;

  explicit constexpr screen(const screen_settings& s) noexcept : settings_{s} {}

  template <class Sink> constexpr void push(const frame& f, Sink&& sink) noexcept {
    frame out = f;
    for (const channel c : all_channels) {
      if (!f.indication.has(c)) continue;
      const double x = f.indication[c];
      lane& at = lanes_[index_of(c)];
      const auto& traits = traits_of(c);
      if (!(x >= traits.lowest && x <= traits.highest)) {
        out.add_mark(c, quality::implausible);
        continue;
      }
      if (at.is_outlier(x, settings_, settings_.floor.of(c) * 60)) {
        out.add_mark(c, quality::outlier);
        at.rows = at.turns = 0;  // perhaps a new level, where it may be quieter
      }
      if (at.is_stuck(x, f.at, settings_)) out.add_mark(c, quality::stuck);
      at.remember(x, settings_.history, f.written_step[index_of(c)]);
    }
    sink(out);
  }

  template <class Sink> constexpr void finish(Sink&&) noexcept { lanes_ = {}; }

 private:
  static constexpr std::uint32_t most_history = 15;
  static constexpr double robust_sd = 1.4826;   // MAD to standard deviation, normal distribution
  static constexpr double coarse_steps = 2.5;   // display steps an outlier is away at least
  static constexpr std::uint32_t least_rows = 5;

  struct lane {
    std::array<double, most_history> values{};
    std::uint32_t count = 0, next = 0;
    resolution display;
    // Dither: how often the value turns back by two steps or more, per row, in runs that are over.
    // One step back and forth tells nothing: a quiet channel does so at the edge of a step.
    double rows = 0, turns = 0;
    int direction = 0;
    std::uint32_t run = 0;
    instant run_since{};

    [[nodiscard]] constexpr double newest(std::uint32_t history) const noexcept {
      return values[(next + history - 1) % history];
    }

    [[nodiscard]] constexpr bool is_outlier(double x, const screen_settings& s,
                                            double floor) const noexcept {
      if (count < least_rows) return false;
      std::array<double, most_history> sorted = values;
      const auto n = static_cast<std::ptrdiff_t>(count);
      const double median = middle_of(sorted, n);
      for (std::ptrdiff_t i = 0; i < n; ++i) {
        auto& v = sorted[static_cast<std::size_t>(i)];
        v = v > median ? v - median : median - v;
      }
      const double mad = middle_of(sorted, n);
      const double limit =
          std::max({s.outlier_factor * robust_sd * mad, floor, coarse_steps * display.step()});
      // Displays step in parts of the limit, so many a value is exactly that far away: rounding, and
      // with it the unit of the log, must not decide.
      const double hair = 1e-9 * (median > 0 ? median : -median);
      return (x > median ? x - median : median - x) > limit + hair;
    }

    static constexpr double middle_of(std::array<double, most_history>& v,
                                      std::ptrdiff_t n) noexcept {
      std::nth_element(v.begin(), v.begin() + n / 2, v.begin() + n);
      return v[static_cast<std::size_t>(n / 2)];
    }

    /// With a chance p of such a turn per row, in n rows without any change n p turns are overdue.
    [[nodiscard]] constexpr bool is_stuck(double x, instant t, const screen_settings& s) noexcept {
      constexpr double least_known = 20;
      constexpr duration least_time = seconds(15);
      if (count > 0 && x == newest(s.history)) {
        ++run;
        const double p = rows > 0 ? turns / rows : 0;
        return rows >= least_known && run * p >= s.overdue_changes &&
               t - run_since >= least_time;
      }
      if (count > 0) {
        const int turned = x > newest(s.history) ? 1 : -1;
        rows += run;
        const double change = x > newest(s.history) ? x - newest(s.history) : newest(s.history) - x;
        if (turned == -direction && change > 1.5 * display.step()) turns += 1;
        direction = turned;
        if (rows > 200) rows /= 2, turns /= 2;
      }
      run = 1;
      run_since = t;
      return false;
    }

    constexpr void remember(double x, std::uint32_t history, double written) noexcept {
      display.update(x, written);
      values[next] = x;
      next = (next + 1) % history;
      if (count < history) ++count;
    }
  };

  screen_settings settings_;
  std::array<lane, channel_count> lanes_{};
};

static_assert(stage<screen> && accepts<screen, frame>);

}  // namespace stilling
