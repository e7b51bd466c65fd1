// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#pragma once

#include <cmath>
#include <cstddef>
#include <optional>
#include <span>

#include "stilling/estimators/condensed_past.hpp"
#include "stilling/estimators/exponential_posterior.hpp"
#include "stilling/estimators/second_part.hpp"
#include "stilling/terms/likely.hpp"

/// Where an exponential approach is heading, and when its rate will be within a limit. A forecast
/// and never a claim: a slower part that follows moves both, and only shows when it is large
/// against the noise. What is said is said with that in mind, see `forecast_fit`.
namespace stilling {

struct approach_forecast {
  likely value;          // it will settle at
  likely settles;        // seconds after the newest row; negative: it was so before
  double time_constant = 0;  // seconds, most likely
  forecast_fit fit = forecast_fit::if_no_slower_part;
};

namespace detail {

/// What lags (a sensor, a casing) bends the beginning of a rise: it is steepest only once the lag
/// is through by half, so what follows after as long again is taken for the exponential.
[[nodiscard]] constexpr std::span<const condensed_rows> past_the_lag(
    std::span<const condensed_rows> rows) noexcept {
  const std::size_t arm = rows.size() / 24 + 2;
  std::size_t steepest = 0;
  double most = 0;
  for (std::size_t i = 0; i + arm < rows.size() / 2; ++i) {
    const double rise = rows[i + arm].y - rows[i].y, run = rows[i + arm].t - rows[i].t;
    const double slope = (rise < 0 ? -rise : rise) / run;
    if (slope > most) most = slope, steepest = i;
  }
  return rows.subspan(2 * steepest);
}

template <class Answer> [[nodiscard]] likely likely_from(const Answer& a) noexcept {
  return {a.quantile(0.5), a.quantile(0.05), a.quantile(0.95)};
}

/// Of these rows alone; times after the first of all, values about the first of all.
[[nodiscard]] inline std::optional<approach_forecast> forecast_from(
    std::span<const condensed_rows> rows, double limit, double step) noexcept {
  constexpr double shows = 7.5;  // of twice the log likelihood: one single approach in fifty
  constexpr double matters = 4;  // standard deviations: shows nine times in ten
  constexpr double certain = 5;  // likewise: that there is an approach at all
  if (rows.size() < exponential_posterior::least_rows || !(rows.back().t > rows[0].t))
    return std::nullopt;
  const exponential_posterior x{leaning_rows{rows}, step};
  const auto& best = x.best();
  const double noise = x.variance(best.squares);
  if (!x.bounded() || !(best.size * best.size > certain * certain * best.size_variance * noise))
    return std::nullopt;
  approach_forecast out;
  out.time_constant = best.tau;
  out.value = likely_from(x.answer([&](const auto& f) {
    return bell{f.level, square_root(f.level_variance * x.variance(f.squares))};
  }));
  const double from = rows[0].t;
  out.settles = likely_from(x.answer([&](const auto& f) {
    // size e^(-t/tau) / tau falls to the limit at t = tau ln(size / (limit tau)).
    const double size = std::abs(f.size), ratio = size / (limit * f.tau);
    if (!(ratio > 1)) return bell{from, 0};
    return bell{from + f.tau * natural_log(ratio),
                f.tau * square_root(f.size_variance * x.variance(f.squares)) / size};
  }));
  const second_part second = second_part_test::of(x);
  out.fit = second.gain > shows      ? forecast_fit::does_not_fit
            : second.sight > matters ? forecast_fit::single
                                     : forecast_fit::if_no_slower_part;
  return out;
}

}  // namespace detail

/// `limit` of the rate, per second, above 0; `step` of the display, 0: none. Nothing while the rows
/// do not tell the time constant: fewer than twelve, too short, or no approach in them. Costs some
/// ten thousand times what a row costs: ask every few seconds, not at every row.
template <std::size_t Places>
[[nodiscard]] std::optional<approach_forecast> look_ahead(const condensed_past<Places>& past,
                                                          double limit, double step) noexcept {
  STILLING_EXPECTS(limit > 0 && step >= 0);
  if (past.rows().size() < exponential_posterior::least_rows) return std::nullopt;
  auto out = detail::forecast_from(detail::past_the_lag(past.rows()), limit, step);
  if (!out) return out;
  const double now = in_seconds(past.newest() - past.origin());
  for (double* x : {&out->value.middle, &out->value.low, &out->value.high})
    *x += past.first_value();
  for (double* x : {&out->settles.middle, &out->settles.low, &out->settles.high}) *x -= now;
  return out;
}

}  // namespace stilling
