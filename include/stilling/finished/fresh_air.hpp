// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#pragma once

#include <cstddef>
#include <optional>

#include "stilling/estimators/uncertainty.hpp"
#include "stilling/finished/hindsight_reading.hpp"
#include "stilling/finished/kept_rows.hpp"
#include "stilling/items/bookends.hpp"
#include "stilling/items/verdict.hpp"
#include "stilling/stages/stage.hpp"
#include "stilling/terms/settings.hpp"

/// Finds the fresh air a log begins and ends with, and what the cells read in it. Offline: memory
/// is allocated, and all is said at the end, for each part between breaks.
///
///     make_reader(s) | make_judge(s) | fresh_air{s}
///
/// Before: rows without a fire until the first one, only those of them the person called fresh air
/// where there are such; the newest seconds before a fire are left out, as the gas is there before
/// the fire is known. After: the newest rows on end without a fire and without heat in the flue, or
/// called fresh air; those in which the cells still come back from the flue gas are left out. The
/// numbers are our own choice.
namespace stilling {

class fresh_air {
 public:
  using emits = items<bookends, note>;

  explicit fresh_air(const session_settings& s) noexcept : limits_{s.steadiness.limits} {}

  template <class Sink> void push(const verdict& v, Sink&&) noexcept {
    for (const channel c : all_channels)
      if (checked_in_air.contains(c) && v.row.usable(c)) seen_.insert(c);
    const bool said = says_air_;
    if (v.fire.burning || v.fire.has_burned) {
      const bool cold = v.fire.net && *v.fire.net < no_heat;
      if (v.fire.burning || !(said || cold)) after_.clear();
      else after_.keep(v);
      if (!burned_) lit_ = v.row.at;
      burned_ = true;
      return;
    }
    if (v.row.warming) return;
    if (said && !said_) before_.clear();
    said_ = said_ || said;
    if (said == said_) before_.keep(v);
  }

  /// The same words as in `phases`, believed where nothing burns.
  template <class Sink> void push(const note& n, Sink&& sink) noexcept {
    if (n.text.starts_with("fresh air")) says_air_ = true;
    if (n.text.starts_with("probe in") || n.text.starts_with("burner on")) says_air_ = false;
    sink(n);
  }

  template <class Sink> void finish(Sink&& sink) noexcept {
    bookends out;
    for (const channel c : all_channels)
      if (seen_.contains(c))
        out.of.set(c, {look(c, before_, burned_ && !said_ ? lit_ : std::nullopt),
                       look(c, after_, std::nullopt)});
    sink(out);
    before_.clear();
    after_.clear();
    seen_ = {};
    said_ = says_air_ = burned_ = false;
    lit_.reset();
  }

 private:
  static constexpr double no_heat = 10;                // K above the room: the probe is out
  static constexpr double least_length = 20;           // seconds
  static constexpr std::uint32_t least_rows = 6;
  static constexpr double settled_length = 30;         // seconds, where there are so many
  static constexpr double within = 1.5;                // times the limit of steadiness
  static constexpr double before_fire = 20;            // seconds in which the gas may be there

  [[nodiscard]] bookend look(channel c, const kept_rows& rows,
                             std::optional<instant> lit) const {
    bookend out;
    std::size_t count = rows.size();
    if (count == 0) return out;
    while (count > 0 && lit && in_seconds(*lit - rows[count - 1].at) < before_fire) --count;
    out.is = bookend_fault::too_short;
    if (count == 0) return out;
    const std::size_t first = first_settled_row(c, rows, 0, count - 1, settled_length);
    const auto own = rows.series(c, first, count - 1);
    if (own.t.size() < least_rows || own.t.back() - own.t.front() < least_length) return out;
    const auto r = hindsight_reading(c, rows, first, first, count - 1, settled_length, 0.95);
    out.is = bookend_fault::moves;
    out.from = rows[first].at;
    out.to = rows[count - 1].at;
    if (!r.rate_bound || *r.rate_bound > within * limits_.of(c)) return out;
    out.is = bookend_fault::none;
    out.mean = r.mean;
    // A mean is off by what moved in half of its rows, at most.
    const double moved = *r.rate_bound * (own.t.back() - own.t.front()) / 2;
    out.standard_uncertainty = combine({{r.standard_uncertainty}, rectangular(moved)}).standard;
    return out;
  }

  rate_limits limits_;
  kept_rows before_, after_;
  channel_set seen_;
  bool says_air_ = false;  // now
  bool said_ = false;      // ever, before the first fire
  bool burned_ = false;
  std::optional<instant> lit_;
};

static_assert(stage<fresh_air> && accepts<fresh_air, verdict>);

}  // namespace stilling
