// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#pragma once

#include <optional>

#include "stilling/decoding/said.hpp"
#include "stilling/items/observation.hpp"
#include "stilling/items/record.hpp"
#include "stilling/items/verdict.hpp"
#include "stilling/stages/stage.hpp"
#include "stilling/terms/units.hpp"

/// Whether the steps of a test were made, each after what it leans on: fresh air, zero of the draft
/// gauge, then the fire; draft and smoke on a warm appliance; smoke again after what moves the air;
/// zero smoke reached from a trace; a last settled reading. Rows and notes tell; a step that only a
/// hand makes is known by its note alone, so where there are no notes nothing is said unless asked.
/// What can still be made good is told at the end of the log, the rest when it happens. The order
/// is common practice; the numbers are our own choice.
namespace stilling {

struct work_settings {
  bool always = false;       // also where no note says anything about the work
  bool smoke_asked = true;   // gas burners are not judged by smoke spots
  std::optional<double> most_smoke = 0;  // above it the last spot is a finding; none: no limit
};

class order_of_work {
 public:
  using emits = items<verdict, note, observation>;
  explicit constexpr order_of_work(const work_settings& s = {}) noexcept : settings_{s} {}

  template <class Sink> constexpr void push(const verdict& v, Sink&& sink) noexcept {
    newest_ = mark(v.row.at, v.row.line);
    in_ = v.in;
    // Where no O2 shows a fire, what settles is one.
    burned_ = burned_ || v.fire.has_burned || v.in == phase::steady;
    if (v.in == phase::fresh_air) (burned_ ? air_after_ : air_before_) = true;
    look_at_drafts(v, sink);
    for (const auto c : all_channels)
      if (v.row.usable(c)) seen_.insert(c);
    stack_ = v.trends[channel::stack_temp];
    if (v.in == phase::steady) settled_ = newest_;
    sink(v);
  }

  template <class Sink> constexpr void push(const note& n, Sink&& sink) noexcept {
    sink(n);
    const said s = what_was_said(n.text);
    const moment now = mark(n.at.value_or(newest_ ? newest_->at : instant{}), n.line);
    spoken_ = spoken_ || s.what != saying::remark;
    switch (s.what) {
      case saying::fresh_air: (burned_ ? air_after_ : air_before_) = true; break;
      case saying::draft_zeroed: draft_zeroed_ = true; break;
      case saying::adjusted_draft:
      case saying::adjusted_air: moved_ = now; break;
      case saying::smoke: take_spot(s, now, sink); break;
      case saying::oil_spot: tell(now, finding_kind::oil_spot, work_step::smoke, sink); break;
      case saying::reading:
        if (in_ != phase::steady) tell_too_early(now, sink);
        break;
      default: break;
    }
  }

  template <class Sink> constexpr void finish(Sink&& sink) noexcept {
    if (newest_ && burned_ && (spoken_ || settings_.always)) judge({newest_->at, 0, 0}, sink);
    *this = order_of_work{settings_};
  }

  /// A log that broke off does not undo what hands have done.
  template <class Sink> constexpr void interrupt(const discontinuity&, Sink&&) noexcept {}

 private:
  /// When something was done, and before or after what: the log's clock may go back.
  struct moment {
    instant at{};
    std::uint64_t line = 0;
    std::uint64_t order = 0;
  };
  constexpr moment mark(instant t, std::uint64_t line) noexcept { return {t, line, ++order_}; }

  static constexpr double still_gauge = 1.0;  // Pa: a gauge within it in fresh air stands at zero
  static constexpr double fast = temperature_rate::from_fahrenheit_per_minute(3)
                                     .in_kelvins_per_second();  // common practice

  /// A gauge that reads nothing while the probe is in fresh air has been zeroed, whoever says so;
  /// one that reads something may feel the chimney.
  template <class Sink> constexpr void look_at_drafts(const verdict& v, Sink& sink) noexcept {
    for (const auto c : {channel::draft_breech, channel::draft_overfire}) {
      if (!v.row.usable(c)) continue;
      const double x = v.row.corrected(c);
      if (v.in == phase::fresh_air && x < still_gauge && x > -still_gauge) draft_zeroed_ = true;
      const bool used = v.in == phase::steady && !draft_zeroed_ && !draft_told_;
      if (!used || !(spoken_ || settings_.always)) continue;
      draft_told_ = true;
      tell(*newest_, finding_kind::draft_not_zeroed, work_step::draft_zero, sink, c);
    }
  }

  template <class Sink>
  constexpr void take_spot(const said& s, moment now, Sink& sink) noexcept {
    spot_ = s.trace ? half_of_one : s.smoke;
    drawn_ = now;
    traced_ = traced_ || *spot_ > 0;
    if (!settled_ && newest_) tell(now, finding_kind::step_out_of_order, work_step::smoke, sink);
  }

  template <class Sink>
  constexpr void tell_too_early(moment now, Sink& sink) noexcept {
    observation o{now.at, now.line, finding_kind::reading_too_early, channel::stack_temp, true,
                  {}, {}, fast, {}, 0};
    if (stack_.measured) o.value = stack_.rate, o.standard_uncertainty = stack_.rate_uncertainty;
    o.step = work_step::reading;
    sink(o);
  }

  template <class Sink> constexpr void judge(moment end, Sink& sink) const noexcept {
    const auto missing = [&](work_step s) { tell(end, finding_kind::step_missing, s, sink); };
    if (!air_before_ && air_after_)
      tell(end, finding_kind::step_out_of_order, work_step::fresh_air, sink);
    // A hand kit has no cells to zero.
    const bool cells = seen_.contains(channel::o2) || seen_.contains(channel::co);
    if (cells && !air_before_ && !air_after_) missing(work_step::fresh_air);
    if (!seen_.contains(channel::draft_breech) && !seen_.contains(channel::draft_overfire))
      missing(work_step::draft);
    if (!seen_.contains(channel::o2) && !seen_.contains(channel::co2)) missing(work_step::oxygen);
    if (!seen_.contains(channel::co)) missing(work_step::monoxide);
    if (settings_.smoke_asked) judge_smoke(end, sink);
    if (moved_ && settled_ && settled_->order < moved_->order) missing(work_step::reading);
  }

  template <class Sink> constexpr void judge_smoke(moment end, Sink& sink) const noexcept {
    if (!spot_) return tell(end, finding_kind::step_missing, work_step::smoke, sink);
    const auto tell_of = [&](finding_kind what, moment done, std::optional<double> limit) {
      observation o{end.at, done.line, what, channel::stack_temp, false,
                    spot_, {}, limit, done.at, 0};
      o.step = work_step::smoke;
      sink(o);
    };
    if (moved_ && drawn_->order < moved_->order)
      tell_of(finding_kind::smoke_not_repeated, *moved_, {});
    if (*spot_ == 0 && !traced_) tell_of(finding_kind::zero_without_trace, *drawn_, {});
    if (settings_.most_smoke && *spot_ > *settings_.most_smoke)
      tell_of(finding_kind::smoke_high, *drawn_, settings_.most_smoke);
  }

  template <class Sink>
  static constexpr void tell(moment when, finding_kind what, work_step step, Sink& sink,
                             channel of = channel::stack_temp) noexcept {
    observation o{when.at, when.line, what, of, false, {}, {}, {}, {}, 0};
    o.step = step;
    sink(o);
  }

  static constexpr double half_of_one = 0.5;  // a trace: more than none, less than one

  work_settings settings_;
  std::optional<moment> newest_, settled_, moved_, drawn_;
  std::uint64_t order_ = 0;
  std::optional<double> spot_;
  trend_estimate stack_{};
  phase in_ = phase::no_data;
  channel_set seen_;
  bool burned_ = false, spoken_ = false, traced_ = false;
  bool air_before_ = false, air_after_ = false, draft_zeroed_ = false, draft_told_ = false;
};

static_assert(stage<order_of_work> && accepts<order_of_work, verdict> &&
              accepts<order_of_work, note> && interrupts<order_of_work>);

}  // namespace stilling
