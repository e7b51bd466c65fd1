// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#pragma once

#include <algorithm>
#include <array>
#include <cstdint>
#include <optional>
#include <utility>

#include "stilling/estimators/agreement.hpp"
#include "stilling/estimators/due_reading.hpp"
#include "stilling/estimators/window.hpp"
#include "stilling/items/verdict.hpp"
#include "stilling/stages/stage.hpp"
#include "stilling/terms/reading_rule.hpp"

/// Steady by a rule of readings: per channel so many of them, so far apart, that agree.
///
/// Where settings name such a rule, its word stands in place of that of the rates; rate, noise and
/// uncertainty remain as they were measured. Readings are taken as a person with a clock takes
/// them, from the first row with a fire on, not at whichever rows happen to agree. A series of even
/// distances goes on until its newest readings agree, and unless the rule wants it once only is
/// looked at again with each new one. One of uneven distances begins again with the reading that
/// does not agree. A reading that is missed ends a series, and with it what was steady. Under a
/// rule that asks for one mean nothing is steady: there the reading is told elsewhere.
///
/// No text says what to do between two readings. Here rows that would not agree end a series too,
/// three on end and for half a minute, all on one side; it ends then where any channel was seen to
/// leave in the minute before. Our own choice.
namespace stilling {

class successive_readings {
 public:
  using emits = items<verdict>;

  constexpr successive_readings() noexcept = default;
  /// `with_fire`: readings are taken while a fire burns, and the waiting begins with it.
  constexpr successive_readings(const reading_rule& r, bool with_fire) noexcept
      : rule_{r.without_name()}, with_fire_{with_fire} {}

  template <class Sink> constexpr void push(verdict&& v, Sink&& sink) noexcept {
    if (!rule_.is_series() && !rule_.is_one_mean()) return sink(std::move(v));
    const bool lit = !with_fire_ || v.fire.burning;
    if (!lit) begun_.reset();
    else if (!begun_) begun_ = v.row.at;
    const bool may = lit && v.row.at - *begun_ >= rule_.waiting;
    watch_departures(v);
    for (const channel c : all_channels) {
      trend_estimate& told = v.trends.slots[index_of(c)];
      if (rule_.is_one_mean()) lane{}.tell(told);
      if (!rule_.allowed.has(c) || !v.trends.has(c)) continue;
      lane& at = lanes_[index_of(c)];
      if (may) at.take(v.row, c, rule_);
      else at.stop(v.row.at);
      if (at.departed && moved_) at.departed = std::min(*at.departed, *moved_);
      if (at.lost) v.trends.clear(c);
      else at.tell(told);
    }
    sink(std::move(v));
  }

  template <class Sink> constexpr void finish(Sink&&) noexcept {
    begin_anew(*this, rule_, with_fire_);
  }

 private:
  static constexpr duration away_for = seconds(30);
  static constexpr std::uint32_t away_rows = 3;

  static constexpr duration minute = seconds(60);

  using series = window<double, most_readings>;

  /// The steady channels that are not asked about see an end as well, and often sooner.
  constexpr void watch_departures(const verdict& v) noexcept {
    if (moved_ && v.row.at - *moved_ > minute) moved_.reset();
    for (const channel c : all_channels)
      if (v.trends.has(c) && v.trends[c].departed)
        moved_ = std::min(moved_.value_or(v.row.at), *v.trends[c].departed);
  }

  struct lane {
    series readings;
    window<instant, most_readings> times;
    due_reading next;
    judgement is = judgement::undecided;
    bool lost = false;                // at this row: a reading was missed while it was steady
    std::optional<instant> departed;  // at this row
    std::optional<instant> away;      // first of the rows that would not agree
    std::uint32_t rows_away = 0;
    int side = 0;

    constexpr void take(const frame& row, channel c, const reading_rule& r) noexcept {
      const instant t = row.at;
      lost = false;
      departed.reset();
      if (next.is_missed(t)) miss();
      if (!row.possible(c)) return;
      const double x = row.corrected(c);
      // An outlier is no reading, and may be the first row of something real.
      if (is == judgement::steady && watch(t, x, r, r.allowed[c])) return;
      if (!row.usable(c)) return;
      if (!next.asked() && !is_over(r))
        next.ask(t + r.mean, punctuality(r.apart[0]), r.mean);
      switch (next.update(t, x)) {
        case due_reading::outcome::taken: return add(r, r.allowed[c]);
        case due_reading::outcome::missed: return miss();
        case due_reading::outcome::waiting: return;
      }
    }

    /// It agrees, and no further reading is asked for.
    [[nodiscard]] constexpr bool is_over(const reading_rule& r) const noexcept {
      return is == judgement::steady && (r.once || !r.is_even());
    }

    /// No readings may be taken now.
    constexpr void stop(instant t) noexcept {
      lost = false;
      const bool ends = is == judgement::steady;
      begin_again();
      departed.reset();
      if (ends) departed = t;
    }

    constexpr void miss() noexcept {
      lost = is == judgement::steady;
      begin_again();
    }

    constexpr void add(const reading_rule& r, const tolerance& within) noexcept {
      const bool even = r.is_even();
      if (even && readings.size() == r.readings) readings.pop_front(), times.pop_front();
      readings.push(next.value());
      times.push(next.at());
      const bool holds = agree(readings, within);
      if (!holds && !even) {
        readings.clear(), times.clear();
        readings.push(next.value());
        times.push(next.at());
      }
      is = readings.size() == r.readings && holds ? judgement::steady
           : holds                                ? judgement::undecided
                                                  : judgement::transient;
      if (is_over(r)) return next.leave();
      const duration apart = r.apart[even ? 0 : readings.size() - 1];
      next.ask(next.at() + apart, punctuality(apart), r.mean);
    }

    /// Have rows that would not agree been there for long enough?
    constexpr bool watch(instant t, double x, const reading_rule& r,
                         const tolerance& within) noexcept {
      series with = readings;
      if (with.full() || r.is_even()) with.pop_front();
      double sum = 0;
      for (std::size_t i = 0; i < with.size(); ++i) sum += with[i];
      const int now = x * static_cast<double>(with.size()) > sum ? 1 : -1;
      with.push(x);
      if (agree(with, within)) {
        stay();
        return false;
      }
      if (!away || now != side) away = t, rows_away = 0, side = now;
      if (++rows_away < away_rows || t - *away < away_for) return false;
      const instant onset = *away;
      begin_again();
      departed = onset;
      is = judgement::transient;
      return true;
    }

    constexpr void stay() noexcept {
      away.reset();
      rows_away = 0;
    }

    constexpr void begin_again() noexcept {
      readings.clear();
      times.clear();
      next.leave();
      stay();
      is = judgement::undecided;
    }

    /// Too few readings yet: what is seen to move still moves.
    constexpr void tell(trend_estimate& to) const noexcept {
      const bool moves = to.is == judgement::transient && is == judgement::undecided;
      to.is = moves ? judgement::transient : is;
      to.within = is == judgement::steady;
      to.contradicted = false;
      to.departed = departed;
      to.since.reset();
      if (is == judgement::steady) to.since = times.front();
    }
  };

  reading_rule rule_{};
  bool with_fire_ = false;
  std::optional<instant> begun_;  // the waiting
  std::optional<instant> moved_;  // a channel left its level, in the minute before
  std::array<lane, channel_count> lanes_{};
};

static_assert(stage<successive_readings> && accepts<successive_readings, verdict>);

}  // namespace stilling
