// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#pragma once

#include <array>
#include <cstdint>
#include <optional>
#include <utility>

#include "stilling/items/verdict.hpp"
#include "stilling/stages/stage.hpp"
#include "stilling/terms/settings.hpp"

/// Joins the channels into the appliance's phase. Steady is said when a fire burns, every required
/// channel is steady at the same row and has been for the dwell; it ends with the first required
/// channel that is not. It does not begin while the instrument warms up, and its readings lean on
/// no row from before. What ended it is named once the rows tell: burner off, probe out, dilution,
/// another firing stage, or just departed.
namespace stilling {

class phases {
 public:
  using emits = items<verdict, phase_change, note>;

  explicit constexpr phases(const phase_settings& s) noexcept : settings_{s} {}

  template <class Sink> constexpr void push(verdict&& v, Sink&& sink) noexcept {
    advance(v.row.at, sink);
    newest_ = v.row.at;
    note_levels(v);
    watch_moves(v);
    if (v.row.warming && in_ != phase::steady) warm_since_ = v.row.at;
    decide(v);
    v.explained = !left_ || left_->explained;
    if (v.in != in_ || v.why != why_)
      sink(phase_change{v.row.at, v.row.line, in_, v.in, v.why, v.which});
    in_ = v.in;
    why_ = v.why;
    sink(std::move(v));
  }

  /// What the person says about the probe is believed; the note itself goes on.
  template <class Sink> constexpr void push(const note& n, Sink&& sink) noexcept {
    if (n.text.starts_with("fresh air")) said_fresh_air_ = true;
    if (n.text.starts_with("probe in") || n.text.starts_with("burner on")) said_fresh_air_ = false;
    sink(n);
  }

  template <class Sink> constexpr void advance(instant t, Sink&& sink) noexcept {
    if (!newest_ || t - *newest_ <= settings_.gap || in_ == phase::no_data) return;
    sink(phase_change{*newest_ + settings_.gap, 0, in_, phase::no_data, cause::gap, {}});
    in_ = phase::no_data;
    why_ = cause::gap;
    within_.reset();
    left_.reset();
  }

  template <class Sink> constexpr void finish(Sink&&) noexcept {
    *this = phases{settings_};
  }

 private:
  static constexpr duration longest_silence = seconds(15);  // of one channel, to claim
  static constexpr duration give_up = seconds(85);  // of waiting for the oxygen to stand still
  static constexpr duration early_look = seconds(12);
  static constexpr duration look_around = seconds(10);      // after which a lost fire is explained
  static constexpr duration name_by = seconds(28);          // after which a departure is just that

  struct moment {
    instant at{};
    double oxygen = 0, net = 0;
  };

  struct departure_from_steady {
    instant onset{};
    std::optional<channel> which;
    cause why = cause::departed;
    bool explained = false;
    std::optional<double> early;  // net temperature some seconds later, as a share of that before
    double oxygen = 0, carbon_monoxide = 0, net = 0;  // where it left from
    bool oxygen_known = false, monoxide_known = false, net_known = false;
  };

  constexpr void note_levels(const verdict& v) noexcept {
    for (const channel c : all_channels)
      if (v.row.possible(c)) heard_[index_of(c)] = v.row.at;
  }

  /// Air that leaks in leaves new levels within seconds; a fire that goes out sends both on and on.
  constexpr void watch_moves(const verdict& v) noexcept {
    if (!v.fire.oxygen || !v.fire.net) return;
    if (seen_ && v.row.at - seen_->at < seconds(4)) return;
    const bool known = seen_ && left_ && left_->oxygen_known && left_->net_known;
    const double gone = known ? *v.fire.oxygen - left_->oxygen : 0;
    oxygen_moves_ = known && gone > 0.005 && *v.fire.oxygen - seen_->oxygen > 0.05 * gone;
    heat_moves_ = known && seen_->net - *v.fire.net > 0.1 * (left_->net - *v.fire.net);
    seen_ = moment{v.row.at, *v.fire.oxygen, *v.fire.net};
  }

  [[nodiscard]] constexpr bool fresh(channel c, instant t, duration most) const noexcept {
    const auto& at = heard_[index_of(c)];
    return at && t - *at <= most;
  }

  constexpr void decide(verdict& v) noexcept {
    const instant t = v.row.at;
    const bool lit = !settings_.combustion_check || v.fire.burning;
    std::optional<channel> unsteady;
    cause why_not = cause::departed;
    for (const channel c : all_channels) {
      if (!settings_.required.contains(c)) continue;
      if (has(v.row.mark(c), quality::stuck)) {
        unsteady = c, why_not = cause::stuck;
        break;
      }
      const duration most = in_ == phase::steady ? settings_.gap : longest_silence;
      if (!v.trends.has(c) || !fresh(c, t, most)) {
        unsteady = c, why_not = cause::gap;
        break;
      }
      const bool holds = v.trends[c].is == judgement::steady &&
                         (in_ == phase::steady || v.trends[c].within);
      if (!holds && !unsteady) unsteady = c;
    }
    if (in_ == phase::steady) {
      if (lit && !unsteady) {
        remember_level(v);
        v.in = phase::steady, v.why = why_;
        return;
      }
      leave_steady(v, lit, unsteady, why_not);
    } else if (left_) {
      explain(v, lit);
    }
    if (lit && !unsteady && !warms_up(v) && !diluted(v)) {
      if (!within_) within_ = t;
      if (t - *within_ >= settings_.dwell) {
        v.in = phase::steady, v.why = cause::within_limits;
        left_.reset();
        remember_level(v);
        forget_cold_rows(v);
        return;
      }
    } else {
      within_.reset();
    }
    name_unsteady(v, lit, unsteady);
  }

  constexpr void remember_level(const verdict& v) noexcept {
    const auto follow = [](double& level, bool& known, double x) {
      level = known ? level + (x - level) / 16 : x;
      known = true;
    };
    if (v.row.usable(channel::o2))
      follow(level_.oxygen, level_.oxygen_known, v.row.corrected(channel::o2));
    if (v.row.usable(channel::co))
      follow(level_.carbon_monoxide, level_.monoxide_known, v.row.corrected(channel::co));
    if (v.fire.net) follow(level_.net, level_.net_known, *v.fire.net);
  }

  constexpr void leave_steady(verdict& v, bool lit, std::optional<channel> which,
                              cause why) noexcept {
    left_ = level_;
    level_ = {};
    left_->onset = v.row.at;
    left_->which = which;
    left_->why = lit ? why : cause::departed;
    left_->explained = left_->why != cause::departed;
    if (which && v.trends.has(*which) && v.trends[*which].departed)
      left_->onset = *v.trends[*which].departed;
    if (why == cause::stuck && v.row.still_since) left_->onset = *v.row.still_since;
    v.onset = left_->onset;
    v.which = which;
    within_.reset();
  }

  /// What the rows after the departure say about it. A probe pulled out cools within seconds, a
  /// flue takes its time; so the stack some seconds later tells the two apart, whenever the oxygen,
  /// behind its sample line, says that there is no fire in it.
  constexpr void explain(const verdict& v, bool lit) noexcept {
    departure_from_steady& d = *left_;
    const duration since = v.row.at - d.onset;
    if (!d.early && v.fire.net && d.net_known && since >= early_look) d.early = *v.fire.net / d.net;
    const bool guess = d.why == cause::diluted || d.why == cause::stage_change;
    if (d.explained && !(guess && !lit)) return;
    if (!lit) {
      if (!v.fire.out_since || v.row.at - *v.fire.out_since < look_around) return;
      d.why = d.early && *d.early < 0.6 ? cause::probe_out : cause::burner_off;
      d.explained = true;
    } else if (d.explained || (oxygen_moves_ && since < give_up)) {
      return;
    } else if (since >= seconds(8) && since < name_by && !heat_moves_ && diluted(v)) {
      d.why = cause::diluted, d.explained = true;
    } else if (since >= name_by) {
      const double moved = v.fire.net && d.net_known ? *v.fire.net / d.net - 1 : 0;
      if (share_of_air(v) > 0.5) {
        d.why = d.early && *d.early < 0.6 ? cause::probe_out : cause::burner_off;
      } else if (moved > 0.12 || moved < -0.12) {
        d.why = cause::stage_change;
      }
      d.explained = true;
    }
  }

  /// How far the oxygen has gone from where it was towards that of air; 0 where that is not known.
  [[nodiscard]] constexpr double share_of_air(const verdict& v) const noexcept {
    constexpr double air = 0.209;  // O2 of fresh air, dry; 40 CFR 75 App. F
    if (!left_ || !left_->oxygen_known || !v.fire.oxygen) return 0;
    return (*v.fire.oxygen - left_->oxygen) / (air - left_->oxygen);
  }

  /// Do O2, CO and net temperature all sit where the same share of air mixed in would put them?
  [[nodiscard]] constexpr bool diluted(const verdict& v) const noexcept {
    if (!settings_.combustion_check || !left_ || !left_->net_known || !v.fire.net) return false;
    const double by_oxygen = share_of_air(v);
    const double by_heat = 1 - *v.fire.net / left_->net;
    if (by_oxygen < 0.04 || by_oxygen > 0.65) return false;
    if (by_heat < 0.5 * by_oxygen || by_heat > 1.6 * by_oxygen) return false;
    if (left_->monoxide_known && left_->carbon_monoxide > 10e-6 && v.row.usable(channel::co)) {
      const double by_monoxide = 1 - v.row.corrected(channel::co) / left_->carbon_monoxide;
      return by_monoxide > 0.4 * by_oxygen - 0.05 && by_monoxide < 2 * by_oxygen + 0.1;
    }
    return true;
  }

  [[nodiscard]] constexpr bool warms_up(const verdict& v) const noexcept {
    return warm_since_ == v.row.at;
  }

  /// A probe that is out of the flue, as far as its temperature tells.
  [[nodiscard]] constexpr bool is_cold(const verdict& v) const noexcept {
    return v.fire.net && *v.fire.net < (in_ == phase::fresh_air ? 25 : 10);
  }

  /// What was proven with rows of a cold instrument is true of them, not of the flue.
  constexpr void forget_cold_rows(verdict& v) const noexcept {
    for (const channel c : all_channels) {
      trend_estimate now = v.trends[c];
      if (!warm_since_ || !now.since || *now.since >= *warm_since_) continue;
      now.since = warm_since_;
      v.trends.set(c, now);
    }
  }

  constexpr void name_unsteady(verdict& v, bool lit, std::optional<channel> unsteady) noexcept {
    if (warms_up(v)) {
      v.in = phase::instrument_warm_up, v.why = cause::drift_in_step;
      v.which = channel::ambient_temp;
      return;
    }
    if (!v.which) v.which = unsteady;
    if (left_ && (lit || left_->why == cause::departed)) {
      v.in = phase::disturbed, v.why = left_->why;
      return;
    }
    if (!lit) {
      if (said_fresh_air_ && v.fire.has_burned && is_cold(v)) {
        v.in = phase::fresh_air, v.why = cause::said;
      } else if (left_) {
        v.in = left_->why == cause::probe_out ? phase::fresh_air : phase::cooling;
        v.why = left_->why;
      } else if (v.fire.has_burned && v.fire.net && *v.fire.net > 10) {
        v.in = phase::cooling, v.why = cause::burner_off;
      } else if (said_fresh_air_) {
        v.in = phase::fresh_air, v.why = cause::said;
      } else {
        v.in = phase::idle, v.why = cause::oxygen_at_air;
      }
      return;
    }
    const bool begins = in_ == phase::no_data || in_ == phase::idle || in_ == phase::fresh_air ||
                        in_ == phase::cooling;
    const bool heats = !v.trends.has(channel::stack_temp) ||
                       !v.trends[channel::stack_temp].measured ||
                       v.trends[channel::stack_temp].is == judgement::transient;
    const bool warming = in_ == phase::appliance_warm_up || in_ == phase::instrument_warm_up;
    if (begins || (warming && heats)) {
      v.in = phase::appliance_warm_up, v.why = cause::fire_seen;
    } else {
      v.in = phase::settling, v.why = cause::near_limits;
    }
  }

  phase_settings settings_;
  phase in_ = phase::no_data;
  cause why_ = cause::first_row;
  std::optional<instant> newest_, within_;
  std::array<std::optional<instant>, channel_count> heard_{};
  departure_from_steady level_{};               // where the steady phase is
  std::optional<departure_from_steady> left_{};  // where it was, until the next one
  std::optional<moment> seen_;  // some seconds ago
  bool oxygen_moves_ = false, heat_moves_ = false;
  bool said_fresh_air_ = false;
  std::optional<instant> warm_since_;  // newest row of an instrument that was warming up
};

static_assert(stage<phases> && accepts<phases, verdict> && advances<phases>);

}  // namespace stilling
