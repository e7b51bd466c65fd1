// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#pragma once

#include <array>
#include <cstddef>
#include <cstdint>
#include <optional>

#include "stilling/items/verdict.hpp"
#include "stilling/stages/stage.hpp"
#include "stilling/terms/settings.hpp"

/// Does something burn? Told by oxygen well below that of air, with hysteresis and persistence;
/// where there is no oxygen channel, by a flue warmer than the room. Counts the burns, from the
/// last row at air level to the last row before the oxygen rose again.
namespace stilling {

class fire {
 public:
  using emits = items<verdict, burn>;

  explicit constexpr fire(const phase_settings& s) noexcept : settings_{s} {}

  template <class Sink> constexpr void push(const verdict& v, Sink&& sink) noexcept {
    const frame& row = v.row;
    std::optional<burn> over;
    if (row.usable(channel::ambient_temp)) ambient_ = row.corrected(channel::ambient_temp);
    // An outlier may be the first row of something real, and what is read off here is only rough.
    if (believable(row, channel::stack_temp)) {
      const double stack = row.corrected(channel::stack_temp);
      net_ = stack - ambient_.value_or(usual_room);
      if (!oxygen_ && !row.indication.has(channel::o2)) over = see_heat(row.at);
    }
    if (believable(row, channel::o2)) over = see_oxygen(row.at, row.corrected(channel::o2));
    verdict out = v;
    out.fire = {burning_, has_burned_, out_since_, oxygen_, net_};
    sink(out);
    if (over) sink(*over);  // after the verdict: a silence before this row is told first
  }

  template <class Sink> constexpr void finish(Sink&& sink) noexcept {
    if (burning_) sink(burn{from_, std::nullopt});
    *this = fire{settings_};
  }

 private:
  static constexpr double usual_room = 293.15;  // K; only where no ambient channel tells
  static constexpr double back_up = 0.01;       // mol/mol above the lowest: the fire is going out
  static constexpr std::size_t memory = 16;

  struct seen {
    instant at{};
    double oxygen = 0;
  };

  [[nodiscard]] static constexpr bool believable(const frame& row, channel c) noexcept {
    return row.possible(c) && !has(row.mark(c), quality::stuck);
  }

  /// The burn that has just ended, if one has.
  constexpr std::optional<burn> see_oxygen(instant t, double x) noexcept {
    oxygen_ = x;
    past_[next_] = {t, x};
    next_ = (next_ + 1) % memory;
    if (known_ < memory) ++known_;
    if (x > settings_.air_oxygen) at_air_ = t;
    const bool warm = !net_ || *net_ > settings_.fire_net_temperature / 5;
    const bool first = known_ == 1;
    persist(t, burning_ ? x > settings_.air_oxygen : x < settings_.fire_oxygen && warm);
    if (first && turning_) light(t);  // joined while it burns
    if (!turning_ || rows_ < 2 || t - *turning_ < least) return std::nullopt;
    if (burning_) return put_out(t, end_of_low_oxygen());
    light(at_air_.value_or(*turning_));
    return std::nullopt;
  }

  constexpr std::optional<burn> see_heat(instant t) noexcept {
    const double on = settings_.fire_net_temperature;
    persist(t, burning_ ? *net_ < 0.6 * on : *net_ > on);
    if (!turning_ || rows_ < 2 || t - *turning_ < least) return std::nullopt;
    if (burning_) return put_out(t, *turning_);
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
    from_ = from;
    out_since_.reset();
    turning_.reset();
    rows_ = 0;
  }

  constexpr burn put_out(instant t, instant to) noexcept {
    burning_ = false;
    out_since_ = *turning_;
    turning_.reset();
    rows_ = 0;
    return {from_, to < from_ ? t : to};
  }

  /// The newest remembered row whose oxygen was still near the lowest.
  [[nodiscard]] constexpr instant end_of_low_oxygen() const noexcept {
    double lowest = 1;
    for (std::size_t i = 0; i < known_; ++i)
      if (past_[i].oxygen < lowest) lowest = past_[i].oxygen;
    instant newest = past_[known_ < memory ? 0 : next_].at;
    for (std::size_t i = 0; i < known_; ++i)
      if (past_[i].oxygen < lowest + back_up && past_[i].at > newest) newest = past_[i].at;
    return newest;
  }

  static constexpr duration least = seconds(3);

  phase_settings settings_;
  bool burning_ = false;
  bool has_burned_ = false;
  std::optional<double> oxygen_, net_, ambient_;
  std::array<seen, memory> past_{};
  std::size_t known_ = 0, next_ = 0;
  std::optional<instant> at_air_;   // newest row at air level
  std::optional<instant> turning_;  // first of the rows that say the opposite
  std::uint32_t rows_ = 0;
  instant from_{};
  std::optional<instant> out_since_;
};

static_assert(stage<fire> && accepts<fire, verdict>);

}  // namespace stilling
