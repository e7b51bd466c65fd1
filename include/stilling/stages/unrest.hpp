// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#pragma once

#include <optional>

#include "stilling/estimators/uncertainty.hpp"
#include "stilling/items/observation.hpp"
#include "stilling/items/reading.hpp"
#include "stilling/items/verdict.hpp"
#include "stilling/stages/stage.hpp"
#include "stilling/terms/settings.hpp"

/// What is not quite at rest in a plateau: that it creeps on within its limits, that it swings
/// about a steady mean. Each is told once for a plateau, of the channel that moves most beside its
/// limit: as soon as the verdicts have shown it for a minute, at the latest with a reading so
/// flagged.
namespace stilling {

class unrest {
 public:
  using emits = items<verdict, settled_reading, observation>;

  explicit constexpr unrest(const plateau_settings& s) noexcept : settings_{s} {}

  /// Behind the reading of the same row, if there is one.
  template <class Sink> constexpr void push(const verdict& v, Sink&& sink) noexcept {
    if (v.in != phase::steady) creep_since_.reset(), swing_since_.reset(), began_ = {};
    else watch(v, sink);
    sink(v);
  }

  template <class Sink> constexpr void push(const settled_reading& r, Sink&& sink) noexcept {
    if (declared_ != r.declared) creeps_ = swings_ = false;
    declared_ = r.declared;
    sink(r);
    const instant known = r.to ? r.released.value_or(*r.to) : r.declared;
    if (r.creeping && r.to)
      tell_creep(known, [&](channel c) { return r.channels[c].rate; }, sink);
    if (r.hunting && r.to) tell_swing(known, *r.hunting, sink);
  }

  template <class Sink> constexpr void finish(Sink&&) noexcept { *this = unrest{settings_}; }

 private:
  static constexpr duration lasting = seconds(60);

  static constexpr double size_of(double x) noexcept { return x > 0 ? x : -x; }

  template <class Sink> constexpr void watch(const verdict& v, Sink& sink) noexcept {
    const instant t = v.row.at;
    bool creeps = false;
    std::optional<oscillation> swing;
    for (const channel c : all_channels) {
      const trend_estimate& now = v.trends[c];
      if (!v.trends.has(c) || !now.measured) continue;
      const double proven = proven_size(now.rate, now.rate_bound);
      if (!began_.has(c)) began_.set(c, now.level);
      const double limit = settings_.limits.of(c), risen = size_of(now.level - began_[c]);
      if (settings_.required.contains(c) && (proven > limit / 2 || risen > 2 * 60 * limit))
        creeps = true;
      if (!now.period) continue;
      if (!swing) swing.emplace();
      swing->period = *now.period;
      swing->amplitude.set(c, now.amplitude);
    }
    if (lasts(creeps, t, creep_since_))
      tell_creep(t, [&](channel c) { return v.trends[c].rate; }, sink);
    if (lasts(swing.has_value(), t, swing_since_)) tell_swing(t, *swing, sink);
  }

  static constexpr bool lasts(bool so, instant t, std::optional<instant>& since) noexcept {
    if (!so) since.reset();
    else if (!since) since = t;
    return so && t - *since >= lasting;
  }

  /// The channel of the largest `size` beside its limit.
  template <class Size> constexpr std::optional<channel> foremost(Size size) const noexcept {
    std::optional<channel> most;
    double share = 0;
    for (const channel c : all_channels) {
      const double now = size(c) / settings_.limits.of(c);
      if (now > share) share = now, most = c;
    }
    return most;
  }

  template <class Rate, class Sink>
  constexpr void tell_creep(instant t, Rate rate, Sink& sink) noexcept {
    const auto most = foremost([&](channel c) {
      return settings_.required.contains(c) ? size_of(rate(c)) : 0;
    });
    if (creeps_ || !most) return;
    creeps_ = true;
    sink(observation{t, 0, finding_kind::creeping, *most, true, rate(*most), {},
                     settings_.limits.of(*most), {}, 0});
  }

  template <class Sink>
  constexpr void tell_swing(instant t, const oscillation& swing, Sink& sink) noexcept {
    const auto most = foremost([&](channel c) { return swing.amplitude[c]; });
    if (swings_ || !most) return;
    swings_ = true;
    observation o{t, 0, finding_kind::hunting, *most, false, swing.amplitude[*most], {}, {}, {}, 0};
    o.period = swing.period;
    sink(o);
  }

  plateau_settings settings_;
  std::optional<instant> declared_;
  bool creeps_ = false, swings_ = false;  // has been told
  std::optional<instant> creep_since_, swing_since_;
  lanes<double> began_;  // levels at the beginning of the plateau
};

static_assert(stage<unrest> && accepts<unrest, settled_reading> &&
              accepts<unrest, verdict>);

}  // namespace stilling
