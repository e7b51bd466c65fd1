// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#pragma once

// The rules others use, each as a number that is small when the rule would say "settled": it says
// so when the number is at most its threshold. One function per rule, from the rows seen so far and
// the moment of the look; nothing where too little was seen. Slopes in degF/min.

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <optional>
#include <span>
#include <vector>

#include "approach.hpp"
#include "stilling/estimators/uncertainty.hpp"

namespace stilling::scoreboard {

using rows = std::span<const sample>;
using number = std::optional<double>;

/// Rows with `from` <= t <= `to`.
inline rows between(rows seen, double from, double to) {
  const auto first = std::ranges::lower_bound(seen, from, {}, &sample::t);
  const auto last = std::ranges::upper_bound(first, seen.end(), to, {}, &sample::t);
  return {first, last};
}

/// The trailing window, where rows cover `share` of it.
inline rows trailing(rows seen, double now, double window, double share = 0.9) {
  const rows r = between(seen, now - window, now);
  if (r.size() < 8 || r.back().t - r.front().t < share * window) return {};
  return r;
}

struct line {
  double n = 0, slope = 0, time_moment = 0, squares = 0, rho = 0;  // slope degF/s
  double mean_t = 0, mean_y = 0;
  [[nodiscard]] double residual(const sample& s) const {
    return s.y - mean_y - slope * (s.t - mean_t);
  }
};

/// Ordinary least squares; rho is the lag-one autocorrelation of the residuals.
inline line line_through(rows r) {
  line fit;
  fit.n = static_cast<double>(r.size());
  for (const auto& s : r) fit.mean_t += s.t / fit.n, fit.mean_y += s.y / fit.n;
  double crossed = 0;
  for (const auto& s : r) {
    fit.time_moment += (s.t - fit.mean_t) * (s.t - fit.mean_t);
    crossed += (s.t - fit.mean_t) * (s.y - fit.mean_y);
  }
  fit.slope = crossed / fit.time_moment;
  double lagged = 0, before = 0;
  for (const auto& s : r) {
    const double e = fit.residual(s);
    fit.squares += e * e;
    lagged += e * before;
    before = e;
  }
  if (fit.squares > 0) fit.rho = lagged / fit.squares;
  return fit;
}

/// Newest against oldest row of the last minute, the field's rule read literally. Common practice.
inline number end_points(rows seen, double now) {
  const rows r = between(seen, now - 60, now);
  if (r.size() < 2 || r.back().t - r.front().t < 48) return {};
  return std::abs(r.back().y - r.front().y);
}

/// The same for three minutes in a row, each beginning with the row the one before ended with.
/// Common practice.
inline number end_points_thrice(rows seen, double now) {
  const rows all = between(seen, now - 180, now);
  if (all.size() < 4 || all.back().t - all.front().t < 168) return {};
  double largest = 0, newer = all.back().y;
  for (const double ago : {60.0, 120.0, 180.0}) {
    const rows since = between(all, now - ago, now);
    if (since.empty()) return {};
    largest = std::max(largest, std::abs(newer - since.front().y));
    newer = since.front().y;
  }
  return largest;
}

/// Least-squares slope, taken at face value.
inline number slope_point(rows seen, double now, double window) {
  const rows r = trailing(seen, now, window);
  if (r.empty()) return {};
  return 60 * std::abs(line_through(r).slope);
}

/// Median of the slopes of all pairs: Theil 1950, Sen 1968.
inline number median_slope(rows seen, double now, double window) {
  const rows r = trailing(seen, now, window);
  if (r.empty()) return {};
  std::vector<double> slopes;
  slopes.reserve(r.size() * (r.size() - 1) / 2);
  for (std::size_t i = 0; i < r.size(); ++i)
    for (std::size_t j = 0; j < i; ++j) slopes.push_back((r[i].y - r[j].y) / (r[i].t - r[j].t));
  const auto middle = slopes.begin() + static_cast<std::ptrdiff_t>(slopes.size() / 2);
  std::ranges::nth_element(slopes, middle);
  return 60 * std::abs(*middle);
}

/// Upper 95 % bound of the slope, residuals taken for independent (any text on regression).
inline number slope_bound_independent(rows seen, double now, double window) {
  const rows r = trailing(seen, now, window);
  if (r.empty()) return {};
  const line fit = line_through(r);
  const double u = std::sqrt(fit.squares / (fit.n - 2) / fit.time_moment);
  return 60 * (std::abs(fit.slope) + student_t(0.95, fit.n - 2) * u);
}

/// How much larger the variance of a mean or a slope is where neighbours lean on each other,
/// (1 + rho)/(1 - rho), with rho corrected for what `n` values make it look smaller.
inline double inflation(double rho, double n) {
  const double corrected = std::clamp(rho + (1 + 4 * rho) / n, 0.0, 0.95);
  return (1 + corrected) / (1 - corrected);
}

/// The same, knowing that residuals lean on each other (Bayley and Hammersley 1946) and what
/// rounding hides: variance at least q^2/12, and all that rounding can do, 1.5 q/W, where the noise
/// is too small to dither.
inline number slope_bound(rows seen, double now, double window) {
  const rows r = trailing(seen, now, window);
  if (r.empty()) return {};
  const line fit = line_through(r);
  const double g = inflation(fit.rho, fit.n), variance = fit.squares / (fit.n - 2);
  const double floored = std::max(variance, display_step * display_step / 12);
  double half = student_t(0.95, std::max(1.0, fit.n / g - 2)) *
                std::sqrt(floored * g / fit.time_moment);
  if (std::sqrt(variance) < 0.3 * display_step) half += 1.5 * display_step / window;
  return 60 * (std::abs(fit.slope) + half);
}

/// "Not significantly moving": |slope| over its two-sided 95 % half-width; settled at most 1.
inline number slope_t_test(rows seen, double now, double window) {
  const rows r = trailing(seen, now, window);
  if (r.empty()) return {};
  const line fit = line_through(r);
  const double half =
      student_t(0.975, fit.n - 2) * std::sqrt(fit.squares / (fit.n - 2) / fit.time_moment);
  if (!(half > 0)) return fit.slope == 0 ? number{0} : number{};
  return std::abs(fit.slope) / half;
}

/// Means of two neighbouring minutes not significantly apart, unequal variances (Welch 1947);
/// settled at most 1.
inline number two_window_t(rows seen, double now) {
  const rows later = trailing(seen, now, 60, 0.8), earlier = trailing(seen, now - 60, 60, 0.8);
  if (later.empty() || earlier.empty()) return {};
  running_moments a, b;
  for (const auto& s : later) a.push(s.y);
  for (const auto& s : earlier) b.push(s.y);
  const double na = static_cast<double>(a.count()), nb = static_cast<double>(b.count());
  const double va = *a.variance() / na, vb = *b.variance() / nb, apart = a.mean() - b.mean();
  if (!(va + vb > 0)) return apart == 0 ? number{0} : number{};
  const double freedom = (va + vb) * (va + vb) / (va * va / (na - 1) + vb * vb / (nb - 1));
  return std::abs(apart) / std::sqrt(va + vb) / student_t(0.975, freedom);
}

/// Variance over half the mean squared successive difference: von Neumann 1941.
inline number variance_ratio(rows seen, double now, double window) {
  const rows r = trailing(seen, now, window);
  if (r.empty()) return {};
  running_moments all;
  double successive = 0;
  for (std::size_t i = 0; i < r.size(); ++i) {
    all.push(r[i].y);
    if (i > 0) successive += (r[i].y - r[i - 1].y) * (r[i].y - r[i - 1].y);
  }
  if (!(successive > 0)) return {};
  return *all.variance() / (successive / static_cast<double>(r.size() - 1) / 2);
}

/// After Kelly and Hedengren, J. Process Control 23(3), 2013, with a least-squares slope: the share
/// of rows further than 2.5 standard deviations (2 to 3 in the paper) from where the line begins.
inline number share_off_level(rows seen, double now, double window) {
  const rows r = trailing(seen, now, window);
  if (r.empty()) return {};
  const line fit = line_through(r);
  const double reach = 2.5 * std::sqrt(fit.squares / (fit.n - 2));
  const double level = fit.mean_y + fit.slope * (r.front().t - fit.mean_t);
  const auto off =
      std::ranges::count_if(r, [&](const sample& s) { return std::abs(s.y - level) > reach; });
  return static_cast<double>(off) / fit.n;
}

/// Standard deviation over mean of the newest 30 values, in degF as logged; the criterion of
/// Georges et al. 2007. Its zero is that of the scale.
inline number coefficient_of_variation(rows seen, double) {
  if (seen.size() < 30) return {};
  running_moments all;
  for (const auto& s : seen.last(30)) all.push(s.y);
  return std::sqrt(*all.variance()) / all.mean();
}

/// Cao and Rhinehart, J. Process Control 5(6), 1995: two estimates of the variance, one about a
/// filtered value, one of successive differences; their ratio is near 1 when steady and white.
class r_statistic {
 public:
  r_statistic(double l1, double l2, double l3) : l1_{l1}, l2_{l2}, l3_{l3} {}

  void update(double y) {
    if (count_ == 0) filtered_ = before_ = y;
    ++count_;
    about_filter_ += l2_ * ((y - filtered_) * (y - filtered_) - about_filter_);
    filtered_ += l1_ * (y - filtered_);
    successive_ += l3_ * ((y - before_) * (y - before_) - successive_);
    before_ = y;
  }
  /// Nothing while the start is still felt, or on a display that sits still.
  [[nodiscard]] number ratio() const {
    if (static_cast<double>(count_) < 12 / std::min({l1_, l2_, l3_}) || !(successive_ > 0))
      return {};
    return (2 - l1_) * about_filter_ / successive_;
  }

 private:
  double l1_, l2_, l3_;
  std::size_t count_ = 0;
  double filtered_ = 0, about_filter_ = 0, successive_ = 0, before_ = 0;
};

/// Of a finished log, how many rows to cut: means of batches, the least standard error of the mean
/// of what is left (White 1997; in fives White, Cobb and Spratt 2000). Nothing where that is beyond
/// half of it, unless `anywhere`.
inline std::optional<std::size_t> mser(rows all, std::size_t batch, bool anywhere = false) {
  std::vector<double> means;
  for (std::size_t i = 0; i + batch <= all.size(); i += batch) {
    double sum = 0;
    for (const auto& s : all.subspan(i, batch)) sum += s.y;
    means.push_back(sum / static_cast<double>(batch));
  }
  std::size_t best = 0;
  double least = -1;
  running_moments kept;
  for (std::size_t d = means.size(); d-- > 0;) {  // from the end: each cut keeps one batch more
    kept.push(means[d]);
    if (kept.count() < 5) continue;  // a handful of equal values is no plateau
    const double n = static_cast<double>(kept.count());
    const double error = *kept.variance() * (n - 1) / (n * n);
    if (least < 0 || error <= least) least = error, best = d;
  }
  if (least < 0 || (!anywhere && best > means.size() / 2)) return {};
  return best * batch;
}

/// Of a finished log, how many rows to cut: the least squared standard error of the mean, with
/// autocovariances to lag root n, Bartlett's weights (Clark, Cole and Michel 2024); `cuts`
/// candidates, evenly spaced.
inline std::size_t least_error_cut(rows all, std::size_t cuts = 15) {
  std::size_t best = 0;
  double least = -1;
  for (std::size_t c = 0; c < cuts; ++c) {
    const std::size_t d = all.size() * c / cuts;
    const rows kept = all.subspan(d);
    const double n = static_cast<double>(kept.size());
    double mean = 0;
    for (const auto& s : kept) mean += s.y / n;
    const auto lags = static_cast<std::size_t>(std::sqrt(n) + 0.5);
    double sum = 0;
    for (std::size_t k = 0; k <= lags; ++k) {
      double covariance = 0;
      for (std::size_t i = k; i < kept.size(); ++i)
        covariance += (kept[i].y - mean) * (kept[i - k].y - mean);
      const double weight = 1 - static_cast<double>(k) / (static_cast<double>(lags) + 1);
      sum += (k == 0 ? 1 : 2 * weight) * covariance / n;
    }
    if (least < 0 || sum / n < least) least = sum / n, best = d;
  }
  return best;
}

/// Of a finished log, how many rows to cut: the most effectively independent values left, their
/// statistical inefficiency by autocorrelations up to the first negative one (Chodera, J. Chem.
/// Theory Comput. 12(4), 2016); `cuts` candidates, evenly spaced.
inline std::size_t most_independent_cut(rows all, std::size_t cuts = 15) {
  std::size_t best = 0;
  double most = -1;
  for (std::size_t c = 0; c < cuts; ++c) {
    const std::size_t d = all.size() * c / cuts;
    const rows kept = all.subspan(d);
    const double n = static_cast<double>(kept.size());
    running_moments all_kept;
    for (const auto& s : kept) all_kept.push(s.y);
    const double variance = all_kept.variance().value_or(0) * (n - 1) / n;
    if (!(variance > 0)) continue;
    double inefficiency = 1;
    for (std::size_t k = 1; k < kept.size(); ++k) {
      double covariance = 0;
      for (std::size_t i = k; i < kept.size(); ++i)
        covariance += (kept[i].y - all_kept.mean()) * (kept[i - k].y - all_kept.mean());
      const double lag = static_cast<double>(k), correlation = covariance / (n - lag) / variance;
      if (correlation <= 0) break;
      inefficiency += 2 * (1 - lag / n) * correlation;
    }
    if (n / inefficiency > most) most = n / inefficiency, best = d;
  }
  return best;
}

}  // namespace stilling::scoreboard
