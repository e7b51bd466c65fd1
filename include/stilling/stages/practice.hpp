// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#pragma once

#include <array>
#include <cmath>
#include <cstdint>
#include <optional>
#include <utility>

#include "stilling/estimators/uncertainty.hpp"
#include "stilling/items/observation.hpp"
#include "stilling/items/verdict.hpp"
#include "stilling/stages/stage.hpp"
#include "stilling/terms/units.hpp"

/// What the rows show of how the test is done, whatever the combustion is like: cells in fresh air,
/// an instrument that was cold (it drifts in step, or reads fresh air otherwise later), a channel
/// that stands still, a sensor that is not there, air that warms, CO that climbs while the stack is
/// flat, a burner that cycles. Each is told once until it is over; nothing is
/// corrected. The numbers are our own choice but where a source stands beside them.
namespace stilling {

class practice {
 public:
  using emits = items<verdict, burn, observation>;

  template <class Sink> constexpr void push(const verdict& v, Sink&& sink) noexcept {
    watch_fresh_air(v, sink);
    watch_warm_up(v, sink);
    watch_sensors(v, sink);
    watch_trends(v, sink);
    newest_ = v.row.at;
    settled_ = settled_ || v.in == phase::steady;
    sink(v);
  }

  template <class Sink> constexpr void push(const burn& b, Sink&& sink) noexcept {
    if (b.to) count_burn(b, sink);
    sink(b);
  }

  template <class Sink> constexpr void finish(Sink&& sink) noexcept {
    if (newest_) judge_fresh_air(*newest_, 0, sink);
    *this = practice{};
  }

 private:
  // Dry air has 20.95 % oxygen (US Standard Atmosphere 1976); cells are set to 20.9.
  static constexpr double air = 0.209;
  static constexpr double air_tolerance = 0.003;      // mol/mol
  static constexpr double clean_air = -5e-6;          // mol/mol CO: lower is a wrong zero
  static constexpr duration air_block = seconds(20);  // fresh air is judged by its newest part
  static constexpr std::uint64_t air_rows = 4;
  static constexpr double no_heat = 10;               // K above the room: the probe is out
  static constexpr double ambient_rate =
      temperature_rate::from_fahrenheit_per_minute(0.5).in_kelvins_per_second();
  static constexpr double monoxide_rate = 5e-6 / 60;  // the limit of steadiness, common practice
  static constexpr std::uint32_t open_rows = 3;       // the same impossible value so often
  static constexpr duration short_burn = seconds(300);
  static constexpr std::uint32_t cycles = 3;

  struct block {
    std::array<running_moments, 2> of;  // oxygen, carbon monoxide
    std::array<double, 2> step{};       // of their displays; 0: none seen
    std::optional<instant> from;
  };

  // --- fresh air -------------------------------------------------------------------------------

  template <class Sink> constexpr void watch_fresh_air(const verdict& v, Sink& sink) noexcept {
    const frame& row = v.row;
    const bool before = !v.fire.burning && !v.fire.has_burned &&
                        (v.in == phase::idle || v.in == phase::fresh_air ||
                         v.in == phase::instrument_warm_up);
    const bool again = !v.fire.burning && v.fire.has_burned && v.fire.net &&
                       *v.fire.net < no_heat && stands(v, channel::o2) && stands(v, channel::co);
    if (!before && !again) {
      judge_fresh_air(row.at, row.line, sink);
      return;
    }
    if (air_now_.from && row.at - *air_now_.from >= air_block) {
      air_before_ = air_now_;
      air_now_ = {};
    }
    if (!air_now_.from) air_now_.from = row.at;
    // The first row of a fire looks like air, and not like the rows before it.
    // It is about the instrument: as indicated, whatever is corrected.
    for (const auto& [i, c] : {std::pair{0U, channel::o2}, std::pair{1U, channel::co}}) {
      if (!row.usable(c)) continue;
      air_now_.of[i].push(row.indication[c]);
      air_now_.step[i] = v.trends.has(c) ? v.trends[c].step : 0;
    }
  }

  template <class Sink>
  constexpr void judge_fresh_air(instant t, std::uint64_t line, Sink& sink) noexcept {
    if (!air_now_.from) return;
    const block all = air_before_.from ? air_before_ : air_now_;
    air_now_ = air_before_ = {};
    const auto mean = [&](std::size_t i) -> std::optional<uncertainty> {
      if (all.of[i].count() < air_rows) return std::nullopt;
      const double variance = all.of[i].variance().value_or(0), step = all.step[i];
      const auto scatter = of_mean(variance, all.of[i].count());
      // A display that does not dither hides as much as it rounds.
      return variance < step * step / 4 ? combine({scatter, of_resolution(step)}) : scatter;
    };
    if (first_air_) {
      const auto disagrees = [&](std::size_t i, channel c, double tolerance) {
        const auto u = mean(i);
        if (!u || first_air_->of[i].count() < air_rows || cold_told_) return;
        const double off = all.of[i].mean() - first_air_->of[i].mean();
        if ((off > 0 ? off : -off) <= tolerance + 2 * u->standard) return;
        cold_told_ = true;
        sink(observation{t, line, finding_kind::instrument_cold, c, false, all.of[i].mean(),
                         u->standard, first_air_->of[i].mean(), all.from, 0});
      };
      disagrees(0, channel::o2, air_tolerance);
      disagrees(1, channel::co, -clean_air);
      return;
    }
    first_air_ = all;
    if (const auto u = mean(0)) {
      const double off = all.of[0].mean() - air;
      if ((off > 0 ? off : -off) > air_tolerance + 2 * u->standard)
        sink(observation{t, line, finding_kind::oxygen_cell_tired, channel::o2, false,
                         all.of[0].mean(), u->standard,
                         off < 0 ? air - air_tolerance : air + air_tolerance, all.from, 0});
    }
    if (const auto u = mean(1)) {
      if (all.of[1].mean() < clean_air - 2 * u->standard)
        sink(observation{t, line, finding_kind::zeroed_in_dirty_air, channel::co, false,
                         all.of[1].mean(), u->standard, clean_air, all.from, 0});
    }
  }

  [[nodiscard]] static constexpr bool stands(const verdict& v, channel c) noexcept {
    return !v.trends.has(c) || v.trends[c].is == judgement::steady;
  }

  template <class Sink> constexpr void watch_warm_up(const verdict& v, Sink& sink) noexcept {
    if (v.in != phase::instrument_warm_up || cold_told_) return;
    cold_told_ = true;
    sink(observation{v.row.at, v.row.line, finding_kind::instrument_cold, channel::ambient_temp,
                     false, {}, {}, {}, {}, 0});
  }

  // --- sensors ---------------------------------------------------------------------------------

  template <class Sink> constexpr void watch_sensors(const verdict& v, Sink& sink) noexcept {
    for (const channel c : all_channels) {
      if (!v.row.indication.has(c)) continue;
      sensor& s = sensors_[index_of(c)];
      const double x = v.row.indication[c];
      const bool stuck = has(v.row.mark(c), quality::stuck);
      if (stuck && !s.stuck)
        sink(observation{v.row.at,
                         v.row.line,
                         finding_kind::channel_stuck,
                         c,
                         false,
                         x,
                         {},
                         {},
                         v.row.still_since,
                         0});
      s.stuck = stuck;
      const bool impossible = has(v.row.mark(c), quality::implausible);
      if (impossible && s.repeats > 0 && x == s.value) {
        ++s.repeats;
        continue;
      }
      if (s.repeats >= open_rows)
        sink(observation{v.row.at,
                         v.row.line,
                         finding_kind::sensor_open,
                         c,
                         false,
                         s.value,
                         {},
                         {},
                         s.since,
                         s.repeats});
      s.repeats = impossible ? 1 : 0;
      s.value = x;
      s.since = v.row.at;
    }
  }

  // --- trends ----------------------------------------------------------------------------------

  template <class Sink> constexpr void watch_trends(const verdict& v, Sink& sink) noexcept {
    const auto moves = [&](channel c, double limit) {
      const trend_estimate& now = v.trends[c];
      if (!v.trends.has(c) || !now.measured) return false;
      return proven_size(now.rate, now.rate_bound) > limit;
    };
    const auto tell_rate = [&](finding_kind what, channel c, double limit) {
      const trend_estimate& now = v.trends[c];
      sink(observation{v.row.at, v.row.line, what, c, true, now.rate, now.rate_uncertainty, limit,
                       now.since, 0});
    };
    if (!ambient_told_ && v.fire.burning && !v.row.warming &&
        moves(channel::ambient_temp, ambient_rate)) {
      ambient_told_ = true;
      tell_rate(finding_kind::ambient_drifts, channel::ambient_temp, ambient_rate);
    }
    // CO follows a move of the air as O2 and stack do, and a slow cell a while behind them.
    const bool flat = v.trends.has(channel::stack_temp) && stands(v, channel::stack_temp) &&
                      stands(v, channel::o2);
    if (!flat) moved_ = v.row.at;
    const bool alone = flat && (!moved_ || v.row.at - *moved_ > seconds(60));
    if (!v.fire.burning) monoxide_told_ = false;
    if (!monoxide_told_ && alone && v.fire.burning && v.trends[channel::co].rate > 0 &&
        moves(channel::co, monoxide_rate)) {
      monoxide_told_ = true;
      tell_rate(finding_kind::co_rising, channel::co, monoxide_rate);
    }
  }

  template <class Sink> constexpr void count_burn(const burn& b, Sink& sink) noexcept {
    const bool is_short = *b.to - b.from < short_burn && !settled_;
    settled_ = false;
    burns_ = is_short ? burns_ + 1 : 0;
    if (burns_ == cycles)
      sink(observation{newest_.value_or(*b.to),
                       0,
                       finding_kind::short_cycling,
                       channel::stack_temp,
                       false,
                       {},
                       {},
                       {},
                       {},
                       burns_});
  }

  struct sensor {
    bool stuck = false;
    std::uint32_t repeats = 0;  // of an impossible value, on end
    double value = 0;
    instant since{};
  };

  block air_now_, air_before_;
  std::optional<block> first_air_;  // the run before any fire
  bool cold_told_ = false;
  std::array<sensor, channel_count> sensors_{};
  bool ambient_told_ = false, monoxide_told_ = false, settled_ = false;
  std::uint32_t burns_ = 0;
  std::optional<instant> newest_, moved_;
};

static_assert(stage<practice> && accepts<practice, verdict> && accepts<practice, burn>);

}  // namespace stilling
