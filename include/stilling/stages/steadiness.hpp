// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#pragma once

#include <algorithm>
#include <array>
#include <cmath>
#include <cstdint>
#include <optional>

#include "stilling/estimators/approach.hpp"
#include "stilling/estimators/heading.hpp"
#include "stilling/estimators/noise.hpp"
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

template <std::size_t Slots = 256> class steadiness {
 public:
  using emits = items<verdict>;

  explicit constexpr steadiness(const steadiness_settings& s) noexcept
      : settings_{s}, lanes_{make_lanes(s, std::make_index_sequence<channel_count>{})} {}

  template <class Sink> constexpr void push(const frame& f, Sink&& sink) noexcept {
    verdict v;
    v.row = f;
    std::uint32_t astray = 0;
    for (const channel c : all_channels) {
      if (f.indication.has(c)) astray += of(c).watch(f, c, settings_) ? 1U : 0U;
    }
    for (const channel c : all_channels) {
      lane& at = of(c);
      if (f.usable(c)) at.learn(f.at, f.corrected(c), f.written_step[index_of(c)]);
    }
    const std::optional<double> period = common_period();
    for (const channel c : all_channels) {
      lane& at = of(c);
      if (at.heard)
        v.trends.set(c, at.judge(f.at, settings_, settings_.limits.of(c), astray, period));
    }
    sink(v);
  }

  template <class Sink> constexpr void finish(Sink&&) noexcept { *this = steadiness{settings_}; }

 private:
  static constexpr std::size_t span_count = 4;

  static constexpr double swing_that_matters = 0.2;  // minutes of the limit
  static constexpr double racing_pace = 4;           // limits

  static constexpr double size_of(double x) noexcept { return x > 0 ? x : -x; }

  struct sample {
    instant at{};
    double x = 0;
  };

  struct lane {
    explicit constexpr lane(const steadiness_settings& s) noexcept
        : line{s.spans, s.longest_gap} {}

    trend<Slots, span_count> line;
    heading course;
    window<sample, 16> newest_rows;  // believed or not, while it is steady
    resolution display;
    rhythm swing;
    batch_noise slow_noise;  // learnt while the trend is moderate
    bool racing = true;
    bool heard = false;
    bool latched = false;
    std::uint32_t apart_rows = 0;  // marked as outliers, on end
    instant apart_since{};
    instant newest{};
    instant since{};
    std::optional<double> remaining;
    std::optional<slope_at> longest;

    /// True when the row and those before are far enough off to count as a witness.
    constexpr bool watch(const frame& f, channel c, const steadiness_settings& s) noexcept {
      if (!f.possible(c)) return false;
      newest_rows.push({f.at, f.corrected(c)});
      watch_step(f.at, has(f.mark(c), quality::outlier), s.persistence);
      if (!latched) return false;
      course.watch(f.at, f.corrected(c), s.departure * 60 * s.limits.of(c), s.departure_sigmas,
                   display.step());
      return course.has_left(2, s.persistence);
    }

    /// Outliers on end are a step: what was before it says nothing about what comes.
    constexpr void watch_step(instant t, bool apart, duration persistence) noexcept {
      if (!apart || apart_rows == 0) apart_since = t;
      apart_rows = apart ? apart_rows + 1 : 0;
      if (!latched && apart_rows == 3 && t - apart_since >= persistence / 2)
        begin_again(apart_since);
    }

    constexpr void learn(instant t, double x, double written) noexcept {
      display.update(x, written);
      heard = true;
      newest = t;
      line.update(t, x);
      if (!racing) slow_noise.update(t, x);
      swing.update(t, x, display.step());
    }

    constexpr trend_estimate judge(instant t, const steadiness_settings& s, double limit,
                                   std::uint32_t astray,
                                   std::optional<double> period) noexcept {
      trend_estimate out;
      out.step = display.step();
      if (course.has_left(astray >= 2 ? 2 : 3, s.persistence)) {
        out.departed = course.onset();
        out.is = judgement::transient;
        begin_again(out.departed.value_or(t));
        return out;
      }
      measure(out, s, limit);
      watch_pace(out, limit);
      if (out.measured && period) measure_swinging(out, s, limit, *period);
      if (out.measured) {
        const double size = size_of(out.rate);
        const double half = out.rate_bound - size;
        out.within = size <= limit && !out.contradicted;
        // One look in a thousand may be unlucky, and a plateau is looked at a thousand times.
        const double lower = size - (latched ? many_looks : 1) * half;
        if (lower > (latched ? s.release_factor : 1) * limit) {
          out.is = judgement::transient;
          latched = false;
          course.clear();
        } else if (!latched && out.within && out.rate_bound <= s.claim_factor * limit) {
          latched = true;
          since = *out.since;
        }
      }
      if (latched) {
        out.is = judgement::steady;
        out.since = since;
        look_ahead(t, out);
        out.remaining = remaining;
        if (longest) {
          out.long_rate = longest->rate;
          out.long_rate_bound = size_of(longest->rate) + 2 * longest->uncertainty;
          out.long_span = s.spans[span_count - 1];
        }
      } else {
        out.since.reset();
      }
      return out;
    }

    /// Noise is learnt only where the trend is slow enough not to pass for it.
    constexpr void watch_pace(const trend_estimate& now, double limit) noexcept {
      const double size = size_of(now.rate);
      const bool races = !now.measured || size > racing_pace * limit;
      if (races && !racing) slow_noise.clear();
      racing = races;
    }

    /// The shortest window that is precise enough, else the most precise there is. In a longer one
    /// a turn of the trend hides in the middle; a shorter one that shows more than the limit at
    /// half its own confidence says so.
    constexpr void measure(trend_estimate& out, const steadiness_settings& s,
                           double limit) const noexcept {
      for (std::size_t k = 0; k < span_count; ++k) {
        if (!line.covers(k, s.least_cover)) continue;
        const auto fit = line.fit(k);
        if (!fit || fit->count < s.least_count) continue;
        const double r = corrected_autocorrelation(fit->lag_one, fit->count);
        const double g = variance_inflation(r);
        double freedom = fit->count / g - 2;
        if (freedom < 1) freedom = 1;
        const double step = out.step;
        const double rounding = step * step / 12;
        const double variance = fit->variance > rounding ? fit->variance : rounding;
        const double spacing = fit->span / (fit->count - 1);
        double density = variance * g * spacing;
        const double size = size_of(fit->rate);
        const double near = student_t(s.confidence, freedom) *
                            std::sqrt(density / spacing / fit->time_moment);
        if (size - near / 2 > limit) out.contradicted = true;
        const auto known = slow_noise.slow();
        const double lasting = std::max(density, known.limit);
        if (known.density > density) {
          density = known.density;
          freedom = std::max(freedom, known.freedom);
        }
        const double u = std::sqrt(density / spacing / fit->time_moment);
        double half = student_t(s.confidence, freedom) * u;
        if (fit->variance < 0.09 * step * step)  // noise below 0.3 steps does not dither
          half += s.resolution_weight * 1.5 * step / fit->span;
        if (out.measured && half >= out.rate_bound - size_of(out.rate)) continue;
        out.measured = true;
        out.rate = fit->rate;
        out.rate_uncertainty = u;
        out.rate_bound = size + half;
        out.span = fit->span;
        out.spacing = spacing;
        out.scatter = std::sqrt(fit->variance);
        out.inflation = g;
        out.noise_density = lasting;
        out.noise_freedom = freedom;
        out.since = fit->first;
        out.level = fit->at(0);
        if (half <= s.precision * limit) return;
      }
    }

    /// A swing is judged in the mean over its period.
    constexpr void measure_swinging(trend_estimate& out, const steadiness_settings& s, double limit,
                                    double period) const noexcept {
      const swing_facts f{period, swing.noise(), out.scatter, out.spacing, s.spans[0]};
      if (amplitude_of(f) < swing_that_matters * limit * 60) return;
      const auto mean = trend_in_swing(line, f);
      if (!mean) return;
      out.rate = mean->rate;
      out.rate_uncertainty = mean->uncertainty;
      out.rate_bound = size_of(out.rate) + student_t(s.confidence, 30) * mean->uncertainty;
      out.span = mean->span;
      out.level = mean->level;
      out.noise_density = mean->density;
      out.period = period;
      out.amplitude = mean->amplitude;
      out.since = newest - duration_from_seconds(mean->span).value_or(seconds(60));
    }

    /// Every few seconds: where it is heading, the rise still to come, the rate over the longest
    /// window (more certain than that of the newest minute, and no news).
    constexpr void look_ahead(instant t, const trend_estimate& now) noexcept {
      if (!now.measured) return;
      if (!course.expect(t, {now.level, now.rate, now.rate_uncertainty, now.span, now.scatter,
                             now.inflation}))
        return;
      remaining.reset();
      longest = slope(span_count - 1, now.inflation);
      const auto recent = slope(0, now.inflation);
      if (recent && longest && !now.period)
        if (const auto a = approach_from(*recent, *longest)) remaining = a->remaining;
    }

    constexpr std::optional<slope_at> slope(std::size_t k, double inflation) const noexcept {
      if (!line.covers(k, 0.9)) return std::nullopt;
      const auto f = line.fit(k);
      if (!f) return std::nullopt;
      const double g = std::min(inflation, 4.0);  // more is the bend of the approach itself
      return slope_at{f->rate, std::sqrt(f->variance * g / f->time_moment), in_seconds(f->middle)};
    }

    /// A new level: it began with the first row of the departure, whatever was thought of that row.
    constexpr void begin_again(instant onset) noexcept {
      line.clear();
      for (std::size_t i = 0; i < newest_rows.size(); ++i)
        if (newest_rows[i].at >= onset) line.update(newest_rows[i].at, newest_rows[i].x);
      newest_rows.clear();
      course.clear();
      slow_noise.interrupt();
      latched = false;
    }
  };

  template <std::size_t... I>
  static constexpr std::array<lane, channel_count> make_lanes(const steadiness_settings& s,
                                                              std::index_sequence<I...>) noexcept {
    return {((void)I, lane{s})...};
  }

  /// A swing of the air shows in all channels; the clearest tells its period.
  [[nodiscard]] constexpr std::optional<double> common_period() const noexcept {
    for (const channel c : {channel::o2, channel::co2, channel::co, channel::stack_temp})
      if (const auto p = lanes_[index_of(c)].swing.period()) return p;
    return std::nullopt;
  }

  constexpr lane& of(channel c) noexcept { return lanes_[index_of(c)]; }

  steadiness_settings settings_;
  std::array<lane, channel_count> lanes_;
};

static_assert(stage<steadiness<>> && accepts<steadiness<>, frame>);

}  // namespace stilling
