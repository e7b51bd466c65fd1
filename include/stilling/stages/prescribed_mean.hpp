// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#pragma once

#include <algorithm>
#include <array>
#include <optional>

#include "stilling/estimators/tally.hpp"
#include "stilling/estimators/uncertainty.hpp"
#include "stilling/items/reading.hpp"
#include "stilling/stages/stage.hpp"
#include "stilling/terms/reading_rule.hpp"

/// The reading of a rule that asks for one mean over so long, so long after the burner started,
/// and for no steadiness: one for each burn, over exactly [from, from + length). It is opened and
/// closed at the first row after that.
///
/// Stands before the plateau, and where there is such a rule in place of it. A required channel
/// that is not heard for more than a third of the length tears the mean: it begins again with that
/// row (our own choice). A fire that goes out first leaves no reading. Of a rule that asks for one
/// series of readings, the plateau that it proved is over with the row after it, one for each burn.
namespace stilling {

class prescribed_mean {
 public:
  using emits = items<verdict, settled_reading>;

  constexpr prescribed_mean() noexcept = default;
  /// `with_fire`: the waiting begins with the fire, not with the first row.
  constexpr prescribed_mean(const reading_rule& r, channel_set required, bool with_fire) noexcept
      : rule_{r.without_name()}, required_{required}, with_fire_{with_fire} {}

  template <class Sink> constexpr void push(const verdict& v, Sink&& sink) noexcept {
    if (!rule_.is_one_mean() && !rule_.once) return sink(v);
    if (with_fire_ && !v.fire.burning) finish(sink);
    if (!rule_.is_one_mean()) return pass(v, sink);
    if (with_fire_ && !v.fire.burning) return;
    const instant t = v.row.at;
    if (!begun_) begun_ = t;
    if (told_ || t - *begun_ < rule_.waiting) return;
    if (!from_ || is_torn(t)) begin(t);
    if (t - *from_ >= rule_.mean) return tell(v, sink);
    add(v);
  }

  template <class Sink> constexpr void finish(Sink&&) noexcept {
    *this = prescribed_mean{rule_, required_, with_fire_};
  }

 private:
  template <class Sink> constexpr void pass(const verdict& v, Sink& sink) noexcept {
    if (v.in != phase::steady || !told_) {
      told_ |= v.in == phase::steady;
      return sink(v);
    }
    verdict over = v;
    over.in = phase::settling;
    over.why = cause::complete;
    sink(over);
  }

  constexpr void begin(instant t) noexcept {
    from_ = last_ = t;
    rows_ = 0;
    tallies_ = {};
    heard_.fill(t);
  }

  [[nodiscard]] constexpr bool is_torn(instant t) const noexcept {
    const instant now = std::min(t, *from_ + rule_.mean);
    for (const channel c : all_channels)
      if (required_.contains(c) && now - heard_[index_of(c)] > rule_.mean / 3) return true;
    return false;
  }

  constexpr void add(const verdict& v) noexcept {
    ++rows_;
    last_ = v.row.at;
    for (const channel c : all_channels) {
      tally& k = tallies_[index_of(c)];
      if (v.row.usable(c)) {
        instant& heard = heard_[index_of(c)];
        k.push(v.row.corrected(c), in_seconds(v.row.at - heard));
        heard = v.row.at;
      } else if (v.row.indication.has(c)) {
        k.set_aside();
      }
      const trend_estimate& now = v.trends[c];
      if (now.measured) k.note_noise(now.scatter * now.scatter, now.noise_density);
    }
  }

  template <class Sink> constexpr void tell(const verdict& v, Sink& sink) noexcept {
    settled_reading r;
    r.declared = v.row.at;
    r.from = *from_;
    r.last_seen = last_;
    for (const channel c : all_channels) {
      if (tallies_[index_of(c)].count() > 0) r.channels.set(c, reading_of(c, v.trends[c]));
      if (required_.contains(c) && v.trends[c].is == judgement::transient) r.creeping = true;
    }
    sink(r);
    r.to = last_;
    r.released = r.declared;
    r.ended = cause::complete;
    sink(r);
    told_ = true;
  }

  [[nodiscard]] constexpr channel_reading reading_of(channel c,
                                                     const trend_estimate& now) const noexcept {
    const tally& k = tallies_[index_of(c)];
    const auto worth = k.of_mean(in_seconds(rule_.mean), now.step);
    channel_reading r;
    r.mean = k.mean();
    r.count = static_cast<std::uint32_t>(k.count());
    r.set_aside = k.passed_over();
    r.coverage = static_cast<double>(k.count()) / rows_;
    r.longest_gap = k.longest_gap();
    r.step = now.step;
    r.rate = now.rate;
    if (now.measured) r.rate_bound = now.rate_bound;
    r.remaining = now.remaining;
    r.lag = now.lag;
    const auto u =
        tally::stated(worth, now.measured ? std::optional{now.noise_freedom} : std::nullopt);
    r.effective_count = worth.effective_count;
    r.degrees_of_freedom = u.degrees_of_freedom;
    r.standard_uncertainty = u.standard;
    return r;
  }

  reading_rule rule_{};
  channel_set required_{};
  bool with_fire_ = false;
  bool told_ = false;             // of this burn
  std::optional<instant> begun_;  // the waiting
  std::optional<instant> from_;   // the mean
  instant last_{};
  std::uint32_t rows_ = 0;
  std::array<tally, channel_count> tallies_{};
  std::array<instant, channel_count> heard_{};
};

static_assert(stage<prescribed_mean> && accepts<prescribed_mean, verdict>);

}  // namespace stilling
