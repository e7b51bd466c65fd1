// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#pragma once

#include <algorithm>
#include <array>
#include <cmath>
#include <cstdint>
#include <optional>
#include <utility>

#include "stilling/estimators/approach.hpp"
#include "stilling/estimators/course_proof.hpp"
#include "stilling/estimators/heading.hpp"
#include "stilling/estimators/noise.hpp"
#include "stilling/estimators/outlier_run.hpp"
#include "stilling/estimators/precise_rate.hpp"
#include "stilling/estimators/resolution.hpp"
#include "stilling/estimators/rhythm.hpp"
#include "stilling/estimators/swing.hpp"
#include "stilling/estimators/trend.hpp"
#include "stilling/estimators/uncertainty.hpp"
#include "stilling/estimators/window.hpp"
#include "stilling/items/verdict.hpp"
#include "stilling/stages/stage.hpp"
#include "stilling/terms/settings.hpp"

/// Per channel: is the trend within its limit, at the stated confidence?
///
/// Steady is what is shown to move slowly, never what could not be shown to move: the estimate is
/// at most the limit and its upper bound at most `claim_factor` times the limit. The window is
/// the shortest whose uncertainty is small against the limit, chosen by the noise alone, so that
/// looking at every row does not multiply false claims. Once steady, a channel stays so until the
/// lower bound of its rate passes the limit, or it departs from its level.
namespace stilling {

template <std::size_t Slots = 256, class Course = course_proof> class steadiness {
 public:
  using emits = items<verdict>;

  explicit constexpr steadiness(const steadiness_settings& s) noexcept
      : settings_{s}, lanes_{make_lanes(s, std::make_index_sequence<channel_count>{})} {}

  template <class Sink> constexpr void push(const frame& f, Sink&& sink) noexcept {
    verdict v;
    v.row = f;
    for (const channel c : all_channels)
      if (f.possible(c)) of(c).watch(f, c, settings_);
    const bool together = leave_together(f.at);
    for (const channel c : all_channels) {
      lane& at = of(c);
      if (!f.usable(c)) continue;
      at.learn(f.at, f.corrected(c), f.written_step[index_of(c)]);
      if (settings_.by_course) at.proof.update(f.at, f.corrected(c));
    }
    const std::optional<double> period = common_period();
    for (const channel c : all_channels) {
      lane& at = of(c);
      if (at.heard)
        v.trends.set(c, at.judge(f.at, settings_, settings_.limits.of(c), together, period));
    }
    sink(std::move(v));
  }

  template <class Sink> constexpr void finish(Sink&&) noexcept { begin_anew(*this, settings_); }

 private:
  static constexpr std::size_t span_count = 4;
  static constexpr double swing_that_matters = 0.2;  // minutes of the limit
  static constexpr double racing_pace = 4;           // limits

  static constexpr double size_of(double x) noexcept { return std::abs(x); }

  struct sample {
    instant at{};
    double x = 0;
  };

  struct lane {
    constexpr lane(const steadiness_settings& s, bool is_straight) noexcept
        : line{s.spans, s.longest_gap}, straight{is_straight} {}

    trend<Slots, span_count> line;
    heading course;
    window<sample, 16> newest_rows;  // believed or not, while it is steady
    resolution display;
    rhythms swing;
    outlier_run apart;
    batch_noise slow_noise;  // learnt while the trend is moderate
    bool straight, racing = true, heard = false, latched = false;  // straight: no slow approach
    instant newest{};
    instant since{};
    std::optional<double> remaining;
    std::optional<slope_at> longest;
    [[no_unique_address]] Course proof;
    bool confirmed = false;    // the window has come to show what the course did
    std::uint64_t judged = 0;  // buckets of the line when it was judged
    trend_estimate now;

    constexpr void watch(const frame& f, channel c, const steadiness_settings& s) noexcept {
      newest_rows.push({f.at, f.corrected(c)});
      apart.update(f.at, has(f.mark(c), quality::outlier));
      if (latched)
        course.watch(f.at, f.corrected(c), s.departure * 60 * s.limits.of(c), s.departure_sigmas,
                     display.step());
      else if (apart.rows() == 3 && f.at - apart.since() >= s.persistence / 2)
        begin_again(apart.since());  // what was before says nothing about what comes
    }

    [[nodiscard]] constexpr bool was_watched(instant t) const noexcept {
      return !newest_rows.empty() && newest_rows.back().at == t;
    }

    constexpr void learn(instant t, double x, double written) noexcept {
      display.update(x, written);
      heard = true;
      newest = t;
      line.update(t, x);
      if (!racing) slow_noise.update(t, x);
      swing.update(t, x, display.step());
    }

    constexpr const trend_estimate& judge(instant t, const steadiness_settings& s, double limit,
                                          bool together, std::optional<double> period) noexcept {
      now.departed.reset();
      if (course.has_left(apart.rare() ? 2 : 3, s.persistence) ||
          (together && course.rows_away() >= 2)) {
        const instant onset = course.onset().value_or(t);
        begin_again(onset);
        now.departed = onset;
        now.is = judgement::transient;
      } else if (line.closed() - judged >= (latched || (racing && now.measured) ? 3U : 1U)) {
        judged = line.closed();
        now = {};
        assess(s, limit, period);
      }
      now.step = display.step();
      if (latched) look_ahead(t, s);
      return now;
    }

    /// Of the line as it is now, once per bucket; of a channel that stands, and is watched at every
    /// row, or that races far beyond its limit, once in three.
    constexpr void assess(const steadiness_settings& s, double limit,
                          std::optional<double> period) noexcept {
      now.step = display.step();
      measure(s, limit);
      watch_pace(limit);
      if (s.by_course && now.measured) look_along(s, limit);
      if (now.measured && period) measure_swinging(s, limit, *period);
      if (now.measured) decide(s, limit);
      now.since.reset();
      if (!latched) return;
      now.is = judgement::steady;
      now.since = since;
    }

    /// What the course says stands in for the window's word until the window has come to the same.
    constexpr void look_along(const steadiness_settings& s, double limit) noexcept {
      confirmed = latched && (confirmed || size_of(now.rate) <= limit);
      if (confirmed) return proof.retire();
      const double q = now.step, undithered = now.scatter < 0.3 * q ? 1.5 * q : 0;
      const auto& found = proof.ask(
          size_of(now.rate) <= racing_pace * limit,
          {limit, now.noise_density, q * q / 12 * now.spacing, s.confidence,
           s.resolution_weight * undithered},
          s.claim_factor * limit);
      if (!found) return;
      now.rate = found->rate, now.rate_bound = found->bound;
      now.rate_uncertainty = found->uncertainty;
      now.since = std::max(now.since.value_or(newest), newest - seconds(60));
      now.contradicted = false;
    }

    constexpr void decide(const steadiness_settings& s, double limit) noexcept {
      const double size = size_of(now.rate);
      const double half = now.rate_bound - size;
      now.within = size <= limit && !now.contradicted;
      // One look in a thousand may be unlucky, and a plateau is looked at a thousand times.
      const double lower = size - (latched ? many_looks : 1) * half;
      if (lower > (latched ? s.release_factor : 1) * limit) {
        now.is = judgement::transient;
        latched = false;
        course.clear();
      } else if (!latched && now.within && now.rate_bound <= s.claim_factor * limit &&
                 proof.allows()) {
        latched = true;
        since = *now.since;
      }
    }

    /// Noise is learnt only where the trend is slow enough not to pass for it.
    constexpr void watch_pace(double limit) noexcept {
      const double size = size_of(now.rate);
      const bool races = !now.measured || size > racing_pace * limit;
      if (races && !racing) slow_noise.clear();
      racing = races;
    }

    constexpr void measure(const steadiness_settings& s, double limit) noexcept {
      const auto found = precise_rate(
          line, slow_noise.slow(),
          {limit, s.precision, s.confidence, s.least_cover, static_cast<double>(s.least_count),
           now.step, s.resolution_weight, straight});
      now.contradicted = found.contradicted;
      now.measured = found.best.has_value();
      if (!found.best) return;
      const measured_rate& m = *found.best;
      now.rate = m.rate, now.rate_uncertainty = m.uncertainty, now.rate_bound = m.bound;
      now.span = m.span, now.spacing = m.spacing;
      now.scatter = m.scatter, now.inflation = m.inflation;
      now.noise_density = m.density, now.noise_freedom = m.freedom;
      now.since = m.since, now.level = m.level;
    }

    /// A swing is judged in the mean over its period.
    constexpr void measure_swinging(const steadiness_settings& s, double limit,
                                    double period) noexcept {
      const swing_facts f{period, swing.noise(), now.scatter, now.spacing, s.spans[0]};
      if (amplitude_of(f) < swing_that_matters * limit * 60) return;
      const auto mean = trend_in_swing(line, f);
      if (!mean) return;
      now.rate = mean->rate, now.rate_uncertainty = mean->uncertainty;
      now.rate_bound = size_of(now.rate) + student_t(s.confidence, 30) * mean->uncertainty;
      now.span = mean->span, now.level = mean->level;
      now.noise_density = mean->density;
      now.period = period, now.amplitude = mean->amplitude;
      now.since = newest - duration_from_seconds(mean->span).value_or(seconds(60));
    }

    /// Every few seconds: where it is heading, the rise still to come, the rate over the longest
    /// window (more certain than that of the newest minute, and no news).
    constexpr void look_ahead(instant t, const steadiness_settings& s) noexcept {
      if (now.measured && course.expect(t, {now.level, now.rate, now.rate_uncertainty, now.span,
                                            now.scatter, now.inflation})) {
        remaining.reset();
        longest = slope_over(line, span_count - 1, now.inflation);
        const auto recent = slope_over(line, 0, now.inflation);
        if (recent && longest && !now.period)
          if (const auto a = approach_from(*recent, *longest)) remaining = a->remaining;
      }
      now.remaining = remaining;
      if (!longest) return;
      now.long_rate = longest->rate;
      now.long_rate_bound = size_of(longest->rate) + 2 * longest->uncertainty;
      now.long_span = s.spans[span_count - 1];
    }

    /// A new level: it began with the first row of the departure, whatever was thought of that row.
    constexpr void begin_again(instant onset) noexcept {
      line.clear();
      for (std::size_t i = 0; i < newest_rows.size(); ++i)
        if (newest_rows[i].at >= onset) line.update(newest_rows[i].at, newest_rows[i].x);
      newest_rows.clear();
      course.clear();
      slow_noise.interrupt();
      proof.clear();
      latched = false;
      judged = 0;
      now = {};
    }
  };

  template <std::size_t... I>
  static constexpr std::array<lane, channel_count> make_lanes(const steadiness_settings& s,
                                                              std::index_sequence<I...>) noexcept {
    return {lane{s, I != index_of(channel::stack_temp)}...};
  }

  /// Channels that leave at the same time vouch for each other: the first row of either counts.
  [[nodiscard]] constexpr bool leave_together(instant t) const noexcept {
    int leaving = 0;
    instant first = t;
    for (const lane& l : lanes_) {
      if (!l.latched || l.course.rows_away() < 2 || !l.was_watched(t)) continue;
      ++leaving;
      first = std::min(first, *l.course.onset());
    }
    return leaving >= 2 && t - first >= settings_.persistence;
  }

  /// A swing of the air shows in all channels; the clearest tells its period.
  [[nodiscard]] constexpr std::optional<double> common_period() const noexcept {
    constexpr std::array clearest{channel::o2, channel::co2, channel::co, channel::stack_temp};
    for (const channel c : clearest)
      if (const auto p = lanes_[index_of(c)].swing.quick()) return p;
    for (const channel c : clearest)
      if (const auto p = lanes_[index_of(c)].swing.slow()) return p;
    return std::nullopt;
  }

  constexpr lane& of(channel c) noexcept { return lanes_[index_of(c)]; }

  steadiness_settings settings_;
  std::array<lane, channel_count> lanes_;
};

static_assert(stage<steadiness<>> && accepts<steadiness<>, frame>);

}  // namespace stilling
