// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#pragma once

#include <cstdint>
#include <optional>
#include <utility>

#include "stilling/items/verdict.hpp"
#include "stilling/stages/stage.hpp"
#include "stilling/terms/settings.hpp"

/// Does something burn? Told by oxygen well below that of air, with hysteresis and persistence;
/// where there is no oxygen channel, by a flue warmer than the room. Counts the burns, from the
/// last row at air level to the last row before the oxygen rose again, each with its peaks and
/// with what its last row said: a short burn has no other figures.
namespace stilling {

class fire {
 public:
  using emits = items<verdict, burn>;

  explicit constexpr fire(const phase_settings& s) noexcept : settings_{s} {}

  template <class Sink> constexpr void push(verdict&& v, Sink&& sink) noexcept {
    const frame& row = v.row;
    std::optional<burn> over;
    if (row.usable(channel::ambient_temp)) ambient_ = row.corrected(channel::ambient_temp);
    // An outlier may be the first row of something real, and what is read off here is only rough.
    if (believable(row, channel::stack_temp)) {
      const double stack = row.corrected(channel::stack_temp);
      newest_.stack = stack;
      net_ = stack - ambient_.value_or(usual_room);
      if (!oxygen_ && !row.indication.has(channel::o2)) over = see_heat(row.at);
    }
    if (row.usable(channel::co)) newest_.monoxide = row.corrected(channel::co);
    if (row.usable(channel::o2)) note_low_oxygen(row.at, row.corrected(channel::o2));
    if (believable(row, channel::o2)) over = see_oxygen(row.at, row.corrected(channel::o2));
    if (!burning_ && !turning_) now_ = {};  // the next burn, where one comes, begins here or later
    note_peaks(row);
    v.fire = {burning_, has_burned_, out_since_, oxygen_, net_};
    sink(std::move(v));
    if (over) sink(*over);  // after the verdict: a silence before this row is told first
  }

  template <class Sink> constexpr void finish(Sink&& sink) noexcept {
    if (burning_) {
      now_.last = read_in(newest_);
      sink(now_);
    }
    *this = fire{settings_};
  }

 private:
  static constexpr double usual_room = 293.15;  // K; only where no ambient channel tells
  static constexpr double back_up = 0.01;       // mol/mol above the lowest: the fire is going out
  static constexpr double climb = 0.02 / 60;    // mol/mol per second

  struct seen {
    instant at{};
    std::optional<double> oxygen, stack, monoxide;
  };

  [[nodiscard]] static constexpr bool believable(const frame& row, channel c) noexcept {
    return row.possible(c) && !has(row.mark(c), quality::stuck);
  }

  /// The burn that has just ended, if one has.
  constexpr std::optional<burn> see_oxygen(instant t, double x) noexcept {
    const bool first = !oxygen_;
    oxygen_ = x;
    if (x > settings_.air_oxygen) at_air_ = t;
    const bool warm = !net_ || *net_ > settings_.fire_net_temperature / 5;
    persist(t, burning_ ? x > settings_.air_oxygen : x < settings_.fire_oxygen && warm);
    if (first && turning_) light(t);  // joined while it burns
    if (!turning_ || rows_ < 2 || t - *turning_ < least) return std::nullopt;
    if (burning_) return put_out(t, near_low_);
    light(at_air_.value_or(*turning_));
    return std::nullopt;
  }

  constexpr std::optional<burn> see_heat(instant t) noexcept {
    const double on = settings_.fire_net_temperature;
    persist(t, burning_ ? *net_ < 0.6 * on : *net_ > on);
    if (!turning_ || rows_ < 2 || t - *turning_ < least) return std::nullopt;
    if (burning_) return put_out(t, {*turning_, {}, {}, {}});
    light(*turning_);
    return std::nullopt;
  }

  constexpr void persist(instant t, bool other) noexcept {
    if (!other) {
      turning_.reset();
      rows_ = 0;
      return;
    }
    if (!turning_) turning_ = t;
    ++rows_;
  }

  constexpr void light(instant from) noexcept {
    burning_ = has_burned_ = true;
    now_.from = from;
    out_since_.reset();
    turning_.reset();
    rows_ = 0;
  }

  constexpr burn put_out(instant t, const seen& end) noexcept {
    burning_ = false;
    out_since_ = *turning_;
    turning_.reset();
    rows_ = 0;
    burn over = now_;
    over.to = end.at < over.from ? t : end.at;
    over.last = read_in(end);
    return over;
  }

  constexpr void note_peaks(const frame& row) noexcept {
    for (const channel c : {channel::stack_temp, channel::co, channel::co2, channel::no}) {
      if (!row.usable(c)) continue;
      const double x = row.corrected(c);
      if (!now_.peak.has(c) || x > now_.peak[c]) now_.peak.set(c, x);
    }
  }

  [[nodiscard]] static constexpr lanes<double> read_in(const seen& s) noexcept {
    lanes<double> out;
    if (s.stack) out.set(channel::stack_temp, *s.stack);
    if (s.oxygen) out.set(channel::o2, *s.oxygen);
    if (s.monoxide) out.set(channel::co, *s.monoxide);
    return out;
  }

  /// The newest row near the lowest oxygen lately. What counts as lowest climbs slowly, so that it
  /// follows another firing stage and more excess air, and does not follow a fire going out.
  constexpr void note_low_oxygen(instant t, double x) noexcept {
    const double climbed = low_oxygen_ + climb * in_seconds(t - newest_.at);
    low_oxygen_ = burning_ && climbed < x ? climbed : x;
    newest_.at = t;
    newest_.oxygen = x;
    if (x < low_oxygen_ + back_up) near_low_ = newest_;
  }

  static constexpr duration least = seconds(3);

  phase_settings settings_;
  bool burning_ = false;
  bool has_burned_ = false;
  std::optional<double> oxygen_, net_, ambient_;
  seen newest_;              // of each
  seen near_low_;            // the newest row near the lowest oxygen
  double low_oxygen_ = 1;    // mol/mol, lately
  std::optional<instant> at_air_;   // newest row at air level
  std::optional<instant> turning_;  // first of the rows that say the opposite
  std::uint32_t rows_ = 0;
  burn now_;  // the burn so far; where nothing burns, what may become its beginning
  std::optional<instant> out_since_;
};

static_assert(stage<fire> && accepts<fire, verdict>);

}  // namespace stilling
