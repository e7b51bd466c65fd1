// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#pragma once

#include <algorithm>
#include <cstddef>
#include <optional>

#include "stilling/estimators/uncertainty.hpp"
#include "stilling/finished/common_plateaus.hpp"
#include "stilling/finished/hindsight_reading.hpp"
#include "stilling/finished/kept_rows.hpp"
#include "stilling/items/reading.hpp"
#include "stilling/items/verdict.hpp"
#include "stilling/stages/stage.hpp"
#include "stilling/terms/settings.hpp"

/// The plateaus of a finished log, in hindsight: in place of the live plateau stage, where the
/// whole log is known before anything is said. Offline: memory is allocated.
///
///     make_reader(s) | make_judge(s) | finished_plateaus{s}
///
/// The rows are kept with what the live stages know of them: what is believed, whether a fire
/// burns, where the sample is diluted. Where all required channels stand still is found by
/// finished/common_plateaus. All is said by finish(), in the order of time:
///     declared  first row by which the plateau had lasted a minute, the span the limits are for,
///               or by which it was proven live
///     from      first row of the mean: the settled start of the slowest channel, perhaps later
///     to        last row of the plateau
///     released  first row after it
namespace stilling {

class finished_plateaus {
 public:
  using emits = items<settled_reading, phase_change>;

  explicit finished_plateaus(const session_settings& s) noexcept : settings_{s} {}

  template <class Sink> void push(const verdict& v, Sink&&) noexcept { rows_.keep(v); }
  /// The live ones would contradict what is known in the end.
  template <class Sink> void push(const phase_change&, Sink&&) noexcept {}

  template <class Sink> void finish(Sink&& sink) noexcept { conclude(cause::end_of_log, sink); }
  template <class Sink> void interrupt(const discontinuity&, Sink&& sink) noexcept {
    conclude(cause::stream_broke, sink);
  }

 private:
  static constexpr double least_mean = 120;  // seconds, where the plateau is that long

  /// The course of the phases, told where it changes.
  struct course {
    phase in = phase::no_data;
    std::optional<cause> why;

    template <class Sink>
    void tell(const kept_row& row, phase to, cause because, std::optional<channel> which,
              Sink& sink) noexcept {
      if (why && to == in && because == *why) return;
      sink(phase_change{row.at, row.line, in, to, because, which});
      in = to;
      why = because;
    }
  };

  template <class Sink> void conclude(cause last, Sink& sink) noexcept {
    const auto found = common_plateaus(rows_, settings_.steadiness, settings_.phase);
    course told;
    std::size_t next = 0;
    for (std::size_t i = 0; i < rows_.size(); ++i) {
      tell_silence(i, told, sink);
      if (next < found.size() && i > found[next].last) sink(reading_of(found[next++], last));
      const bool within = next < found.size() && i >= found[next].declared;
      if (within) told.tell(rows_[i], phase::steady, cause::within_limits, {}, sink);
      else tell_unsettled(rows_[i], told, sink);
      if (within && i == found[next].declared) sink(opened(reading_of(found[next], last)));
    }
    if (next < found.size()) sink(reading_of(found[next], last));
    rows_.clear();
  }

  template <class Sink> void tell_silence(std::size_t i, course& told, Sink& sink) const noexcept {
    if (i == 0 || rows_[i].at - rows_[i - 1].at <= settings_.phase.gap) return;
    kept_row quiet;
    quiet.at = rows_[i - 1].at + settings_.phase.gap;
    told.tell(quiet, phase::no_data, cause::gap, {}, sink);
  }

  /// As it was live, but for what was settled live and is not in hindsight.
  template <class Sink>
  void tell_unsettled(const kept_row& row, course& told, Sink& sink) const noexcept {
    if (row.in != phase::steady) {
      told.tell(row, row.in, row.why, rows_.who_left(row.at, settings_.phase.required), sink);
    } else if (told.in == phase::steady || told.in == phase::disturbed) {
      told.tell(row, phase::disturbed, cause::departed,
                rows_.who_left(row.at, settings_.phase.required), sink);
    } else {
      told.tell(row, phase::settling, cause::near_limits, {}, sink);
    }
  }

  [[nodiscard]] static settled_reading opened(settled_reading r) noexcept {
    r.to.reset();
    r.released.reset();
    r.ended = cause::none;
    return r;
  }

  [[nodiscard]] settled_reading reading_of(const common_plateau& p, cause last) const {
    const channel_set required = settings_.phase.required;
    std::size_t first = p.first;
    for (const channel c : all_channels)
      if (required.contains(c))
        first = std::max(first, first_settled_row(c, rows_, p.first, p.last, least_mean));
    settled_reading r;
    r.declared = rows_[p.declared].at;
    r.from = rows_[first].at;
    r.to = r.last_seen = rows_[p.last].at;
    if (p.last + 1 < rows_.size()) r.released = rows_[p.last + 1].at;
    r.ended = r.released ? rows_.why_after(p.last, settings_.plateau.naming) : last;
    for (const channel c : all_channels) {
      const auto of = hindsight_reading(c, rows_, p.first, first, p.last, least_mean,
                                        settings_.steadiness.confidence);
      if (of.count == 0) continue;
      r.channels.set(c, of);
      if (!required.contains(c) || !of.rate_bound) continue;
      if (proven_size(of.rate, *of.rate_bound) > settings_.plateau.limits.of(c) / 2)
        r.creeping = true;
    }
    r.hunting = rows_.swing(p.first, p.last);
    return r;
  }

  session_settings settings_;
  kept_rows rows_;
};

static_assert(stage<finished_plateaus> && accepts<finished_plateaus, verdict> &&
              accepts<finished_plateaus, phase_change> && interrupts<finished_plateaus>);

}  // namespace stilling
