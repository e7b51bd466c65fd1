// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#pragma once

#include <array>
#include <cstddef>
#include <cstdint>
#include <optional>

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
/// distances goes on until its newest readings agree, and is looked at again with each new one. One
/// of uneven distances begins again with the reading that does not agree. A reading that is missed
/// ends a series, and with it what was steady.
///
/// No text says what to do between two readings. Here rows that would not agree end a series too,
/// three on end and for half a minute, all on one side: our own choice.
namespace stilling {

class successive_readings {
 public:
  using emits = items<verdict>;

  constexpr successive_readings() noexcept = default;
  /// `with_fire`: readings are taken while a fire burns, and the waiting begins with it.
  constexpr successive_readings(const reading_rule& r, bool with_fire) noexcept
      : rule_{r}, with_fire_{with_fire}, even_{r.is_even()} {}

  template <class Sink> constexpr void push(const verdict& v, Sink&& sink) noexcept {
    if (!rule_.is_series()) return sink(v);
    const instant t = v.row.at;
    if (with_fire_ && !v.fire.burning) {
      begun_.reset();
      lanes_ = {};
    } else if (!begun_) {
      begun_ = t;
    }
    const bool may = begun_ && t - *begun_ >= rule_.waiting;
    verdict out = v;
    for (const channel c : all_channels) {
      if (!rule_.allowed.has(c) || !v.trends.has(c)) continue;
      lane& at = lanes_[index_of(c)];
      if (may) at.take(v.row, c, rule_, even_);
      if (at.lost) out.trends.clear(c);
      else at.tell(out.trends.slots[index_of(c)]);
    }
    sink(out);
  }

  template <class Sink> constexpr void finish(Sink&&) noexcept {
    *this = successive_readings{rule_, with_fire_};
  }

 private:
  static constexpr duration away_for = seconds(30);
  static constexpr std::uint32_t away_rows = 3;

  using series = window<double, most_readings>;

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

    constexpr void take(const frame& row, channel c, const reading_rule& r, bool even) noexcept {
      const instant t = row.at;
      lost = false;
      departed.reset();
      if (next.is_missed(t)) miss();
      if (!row.possible(c)) return;
      const double x = row.corrected(c);
      // An outlier is no reading, and may be the first row of something real.
      if (is == judgement::steady && watch(t, x, r, even, r.allowed[c])) return;
      if (!row.usable(c)) return;
      if (!next.asked() && !is_complete(r, even))
        next.ask(t + r.mean, punctuality(r.apart[0]), r.mean);
      switch (next.update(t, x)) {
        case due_reading::outcome::taken: return add(r, even, r.allowed[c]);
        case due_reading::outcome::missed: return miss();
        case due_reading::outcome::waiting: return;
      }
    }

    /// A series of uneven distances that is over and agrees.
    [[nodiscard]] constexpr bool is_complete(const reading_rule& r, bool even) const noexcept {
      return !even && readings.size() == r.readings;
    }

    constexpr void miss() noexcept {
      lost = is == judgement::steady;
      begin_again();
    }

    constexpr void add(const reading_rule& r, bool even, const tolerance& within) noexcept {
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
      if (is_complete(r, even)) return next.leave();
      const duration apart = r.apart[even ? 0 : readings.size() - 1];
      next.ask(next.at() + apart, punctuality(apart), r.mean);
    }

    /// Rows that a reading of would not agree: have they been so for long enough?
    constexpr bool watch(instant t, double x, const reading_rule& r, bool even,
                         const tolerance& within) noexcept {
      series with = readings;
      if (with.full() || (even && with.size() == r.readings)) with.pop_front();
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
  bool with_fire_ = false, even_ = true;
  std::optional<instant> begun_;
  std::array<lane, channel_count> lanes_{};
};

static_assert(stage<successive_readings> && accepts<successive_readings, verdict>);

}  // namespace stilling
