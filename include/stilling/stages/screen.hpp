// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#pragma once

#include <algorithm>
#include <array>
#include <cmath>
#include <cstddef>
#include <cstdint>
#include <utility>

#include "stilling/estimators/resolution.hpp"
#include "stilling/estimators/window.hpp"
#include "stilling/items/frame.hpp"
#include "stilling/stages/stage.hpp"
#include "stilling/terms/settings.hpp"

/// Marks what a lane should not be believed in: implausible values, outliers against the newest
/// neighbours (Hampel's identifier: median and median absolute deviation), and a channel that
/// stands still although its own earlier dither says it cannot. Marked, never removed.
namespace stilling {

class screen {
 public:
  using emits = items<frame>;

  explicit constexpr screen(const screen_settings& s) noexcept : settings_{s} {}

  template <class Sink> constexpr void push(frame&& f, Sink&& sink) noexcept {
    for (const channel c : all_channels) {
      if (!f.indication.has(c)) continue;
      const double x = f.indication[c];
      lane& at = lanes_[index_of(c)];
      const auto& traits = traits_of(c);
      if (!(x >= traits.lowest && x <= traits.highest)) {
        f.add_mark(c, quality::implausible);
        continue;
      }
      if (at.is_outlier(x, settings_, settings_.floor.of(c) * 60)) {
        f.add_mark(c, quality::outlier);
        at.rows = at.turns = 0;  // perhaps a new level, where it may be quieter
        at.strayed = true;
      }
      if (at.is_stuck(x, f.at, settings_)) {
        f.add_mark(c, quality::stuck);
        if (!f.still_since || at.run_since < *f.still_since) f.still_since = at.run_since;
      }
      at.remember(x, settings_.history, f.written_step[index_of(c)]);
    }
    sink(std::move(f));
  }

  template <class Sink> constexpr void finish(Sink&&) noexcept { lanes_ = {}; }

 private:
  static constexpr std::size_t room = 16;  // rows; a power of two, for the ring
  static constexpr double robust_sd = 1.4826;   // MAD to standard deviation, normal distribution
  static constexpr double coarse_steps = 2.5;   // display steps an outlier is away at least
  static constexpr std::size_t least_rows = 5;

  struct lane {
    window<double, room> recent;
    double low = 0, high = 0;  // between them lie the recent values, and perhaps older ones
    resolution display;
    // Dither: how often the value turns back by two steps or more, per row, in runs that are over.
    // One step back and forth tells nothing: a quiet channel does so at the edge of a step.
    double rows = 0, turns = 0;
    int direction = 0;
    bool strayed = false;  // the newest value was an outlier: its way back is no dither
    std::uint32_t run = 0;
    instant run_since{};

    [[nodiscard]] constexpr bool is_outlier(double x, const screen_settings& s,
                                            double floor) noexcept {
      if (recent.size() < least_rows) return false;
      const double least = std::max(floor, coarse_steps * display.step());
      return !is_near_all(x, least) && !is_near_most(x, least) && is_far_from_median(x, s, least);
    }

    [[nodiscard]] constexpr bool is_far_from_median(double x, const screen_settings& s,
                                                    double least) const noexcept {
      const auto [median, deviation] = *order_statistics_of(recent);
      const double limit = std::max(s.outlier_factor * robust_sd * deviation, least);
      // Displays step in parts of the limit, so many a value is exactly that far away: rounding,
      // and with it the unit of the log, must not decide.
      const double hair = 1e-9 * std::abs(median);
      return std::abs(x - median) > limit + hair;
    }

    [[nodiscard]] constexpr bool is_near_all(double x, double distance) noexcept {
      if (x - low <= distance && high - x <= distance) return true;
      low = high = x;
      for (std::size_t i = 0; i < recent.size(); ++i) take_in(recent[i]);
      return x - low <= distance && high - x <= distance;
    }

    /// Then the median is as near. A ramp is, mostly, and needs no sorting.
    [[nodiscard]] constexpr bool is_near_most(double x, double distance) const noexcept {
      std::size_t near = 0;
      for (std::size_t i = 0; i < recent.size(); ++i)
        near += std::abs(x - recent[i]) <= distance ? 1U : 0U;
      return 2 * near > recent.size();
    }

    constexpr void take_in(double x) noexcept {
      low = std::min(low, x);
      high = std::max(high, x);
    }

    /// How many turns are overdue in a run without any change: what `turns` in `rows` make of their
    /// chance is itself uncertain, so k in n rows leave m still ones with the odds (1 + m/n)^-k, of
    /// which this is the logarithm, from below: ln(1 + y) > 2y / (2 + y). Two turns prove nothing.
    [[nodiscard]] constexpr double overdue() const noexcept {
      return rows > 0 ? 2 * turns * run / (2 * rows + run) : 0;
    }

    [[nodiscard]] constexpr bool is_stuck(double x, instant t, const screen_settings& s) noexcept {
      constexpr double least_known = 20;
      constexpr duration least_time = seconds(15);
      if (!recent.empty() && x == recent.back()) {
        ++run;
        return t - run_since >= least_time && rows >= least_known &&
               overdue() >= s.overdue_changes;
      }
      if (!recent.empty()) {
        const int turned = x > recent.back() ? 1 : -1;
        rows += run;
        const double change = std::abs(x - recent.back());
        const double step = display.step();
        if (!strayed && turned == -direction && step > 0 && change > 1.5 * step) turns += 1;
        direction = turned;
        strayed = false;
        if (rows > 200) rows /= 2, turns /= 2;
      }
      run = 1;
      run_since = t;
      return false;
    }

    constexpr void remember(double x, std::uint32_t history, double written) noexcept {
      display.update(x, written);
      if (recent.empty()) low = high = x;
      take_in(x);
      if (recent.size() >= history) recent.pop_front();
      recent.push(x);
    }
  };

  screen_settings settings_;
  std::array<lane, channel_count> lanes_{};
};

static_assert(stage<screen> && accepts<screen, frame>);

}  // namespace stilling
