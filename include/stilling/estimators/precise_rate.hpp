// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#pragma once

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <optional>

#include "stilling/estimators/line_moments.hpp"
#include "stilling/estimators/noise.hpp"
#include "stilling/estimators/uncertainty.hpp"
#include "stilling/terms/time.hpp"

/// The rate of a trend with its bound, from the shortest window that is precise enough, else from
/// the most precise there is. In a longer one a turn of the trend hides in the middle. The window
/// is chosen by the noise, not by the slope, so looking at every row picks no lucky one.
namespace stilling {

struct rate_demands {
  double limit = 0;       // per second; above 0
  double precision = 0;   // half-width of confidence that is precise enough, as a share of it
  double confidence = 0;  // one-sided, as student_t takes it
  double least_cover = 0;
  double least_count = 0;
  double step = 0;               // of the display; 0: unknown
  double resolution_weight = 0;  // share of the worst that rounding can do without dither
  bool straight = false;         // a bend has to be shown: no exponential approach is expected
};

struct measured_rate {
  double rate = 0;         // per second
  double uncertainty = 0;  // of the rate, standard
  double bound = 0;        // of |rate|
  double span = 0, spacing = 0;
  double scatter = 0;    // about the line
  double inflation = 1;  // of a mean's variance by autocorrelation
  double density = 0;    // of the noise: variance of a mean over T seconds, times T
  double freedom = 1;
  double level = 0;  // at the newest value
  instant since{};   // of the window
};

struct rate_answer {
  std::optional<measured_rate> best;  // nothing where no window has seen enough
  // A window, or one shorter, shows more than the limit at half its own confidence; or, where a
  // bend has to be shown, a longer one does at full confidence and agrees with it within chance.
  bool contradicted = false;
};

namespace detail {
/// A longer window than the precise one, both ending now: their difference has the difference of
/// the variances.
[[nodiscard]] constexpr bool shows_more(const std::optional<line_slope>& longer,
                                        const measured_rate& precise, double density,
                                        const rate_demands& d) noexcept {
  if (!longer || longer->count < d.least_count) return false;
  const double size = std::abs(longer->rate);
  if (!(size > d.limit)) return false;  // mostly so
  const double spacing = longer->span / (longer->count - 1);
  const double squared = density / spacing / longer->time_moment;
  const double apart = longer->rate - precise.rate, own = precise.uncertainty;
  return size - student_t(d.confidence, precise.freedom) * std::sqrt(squared) > d.limit &&
         apart * apart < 4 * (own * own - squared);
}
}  // namespace detail

/// `line` answers `covers(k, cover)`, `fit(k)` and `slope(k)` for its windows `k`, shortest first;
/// `known` is what was learnt of slow noise before.
template <class Line>
[[nodiscard]] constexpr rate_answer precise_rate(const Line& line,
                                                 const batch_noise::estimate& known,
                                                 const rate_demands& d) noexcept {
  rate_answer out;
  double narrowest = 0, best_density = 0;
  bool precise = false;
  const double rounding = d.step * d.step / 12;
  for (std::size_t k = 0; k < Line::span_count; ++k) {
    if (!line.covers(k, d.least_cover)) continue;
    if (precise) {
      out.contradicted = out.contradicted ||
                         detail::shows_more(line.slope(k), *out.best, best_density, d);
      continue;
    }
    const auto fit = line.fit(k);
    if (!fit || fit->count < d.least_count) continue;
    // What is far below the display's rounding is that of arithmetic, and leans on nothing.
    const double lag_one = fit->variance > 1e-6 * rounding ? fit->lag_one : 0;
    const double r = corrected_autocorrelation(lag_one, fit->count);
    const double g = variance_inflation(r);
    double freedom = std::max(1.0, fit->count / g - 2);
    const double variance = std::max(fit->variance, rounding);
    const double spacing = fit->span / (fit->count - 1);
    double density = variance * g * spacing;
    double u = std::sqrt(density / spacing / fit->time_moment);
    double half = student_t(d.confidence, freedom) * u;
    const double size = std::abs(fit->rate);
    if (size - half / 2 > d.limit) out.contradicted = true;
    const double lasting = std::max(density, known.limit);
    if (known.density > density) {
      density = known.density;
      freedom = std::max(freedom, known.freedom);
      u = std::sqrt(density / spacing / fit->time_moment);
      half = student_t(d.confidence, freedom) * u;
    }
    if (fit->variance < 0.09 * d.step * d.step)  // noise below 0.3 steps does not dither
      half += d.resolution_weight * 1.5 * d.step / fit->span;
    if (out.best && half >= narrowest) continue;
    narrowest = half;
    out.best = measured_rate{fit->rate, u, size + half, fit->span, spacing,
                             std::sqrt(fit->variance), g, lasting, freedom, fit->at(0),
                             fit->first};
    best_density = density;
    precise = half <= d.precision * d.limit;
    if (precise && !d.straight) break;
  }
  return out;
}

}  // namespace stilling
