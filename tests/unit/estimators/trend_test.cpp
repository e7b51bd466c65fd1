// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT

#include "stilling/estimators/trend.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <deque>
#include <memory>
#include <random>
#include <type_traits>
#include <utility>
#include <vector>

namespace stilling {
namespace {

static_assert(std::is_trivially_copyable_v<trend<>>);
static_assert(sizeof(trend<>) < 8192, "fixed memory, whatever the sampling rate");
static_assert(!trend<8, 1>{{60}, 0.25}.fit(0), "nothing seen, nothing said");

constexpr double rate_by_the_compiler = [] {
  trend<64, 1> t{{60}, 0.25};
  for (int i = 0; i <= 60; ++i) t.update(instant{seconds(i)}, 400 + 0.5 * i);
  return t.fit(0)->rate;
}();
static_assert(rate_by_the_compiler == 0.5);

struct sample {
  instant at;
  double y = 0;
};

/// The line by two passes in long double over what lies in the span before the newest value.
struct reference {
  long double rate = 0, level = 0, variance = 0, lag_one = 0, time_moment = 0;
  std::size_t count = 0;
};
reference two_passes(const std::deque<sample>& all, duration span) {
  const instant last = all.back().at;
  std::vector<std::pair<long double, long double>> v;
  for (const auto& s : all)
    if (last - s.at <= span)
      v.emplace_back(static_cast<long double>((s.at - last).count()) / 1e9L, s.y);
  reference r{};
  r.count = v.size();
  const auto n = static_cast<long double>(v.size());
  long double mean_t = 0, mean_y = 0, ty = 0, squares = 0, steps = 0, before = 0;
  for (const auto& [t, y] : v) mean_t += t / n, mean_y += y / n;
  for (const auto& [t, y] : v) {
    r.time_moment += (t - mean_t) * (t - mean_t);
    ty += (t - mean_t) * (y - mean_y);
  }
  r.rate = ty / r.time_moment;
  r.level = mean_y;
  for (std::size_t i = 0; i < v.size(); ++i) {
    const long double residual = v[i].second - mean_y - r.rate * (v[i].first - mean_t);
    squares += residual * residual;
    if (i > 0) steps += (residual - before) * (residual - before);
    before = residual;
  }
  r.variance = squares / (n - 2);
  r.lag_one = 1 - steps / (n - 1) / (2 * r.variance);
  return r;
}

double of(long double x) { return static_cast<double>(x); }

// --- certified values -----------------------------------------------------------------------

// NIST StRD, linear regression, Norris, certified. x in tenths as nanoseconds, so that each value
// is a bucket of its own.
constexpr std::array<double, 36> norris_x{
    0.2,   337.4, 118.2, 884.6, 10.1,  226.5, 666.3, 996.3, 448.6, 777.0, 558.2, 0.4,
    0.6,   775.5, 666.9, 338.0, 447.5, 11.6,  556.0, 228.1, 995.8, 887.6, 120.2, 0.3,
    0.3,   556.8, 339.1, 887.2, 999.0, 779.0, 11.1,  118.3, 229.2, 669.1, 448.9, 0.5};
constexpr std::array<double, 36> norris_y{
    0.1,   338.8, 118.1, 888.0, 9.2,   228.1, 668.5, 998.5, 449.1, 778.9, 559.2, 0.3,
    0.1,   778.1, 668.8, 339.3, 448.9, 10.8,  557.7, 228.3, 998.0, 888.8, 119.6, 0.3,
    0.6,   557.6, 339.3, 888.0, 998.5, 778.9, 10.2,  117.6, 228.9, 668.4, 449.2, 0.2};
constexpr double norris_intercept = -0.262323073774029, norris_slope = 1.00211681802045,
                 norris_slope_sd = 0.000429796848199937, norris_residual_sd = 0.884796396144373;
constexpr double x_per_second = 1e8;

line_fit fit_of_norris(duration time_shift, double y_shift) {
  std::vector<sample> rows;
  for (std::size_t i = 0; i < norris_x.size(); ++i) {
    const auto tenths = static_cast<std::int64_t>(norris_x[i] * 10 + 0.5);
    rows.push_back({instant{time_shift + duration{tenths}}, norris_y[i] + y_shift});
  }
  std::stable_sort(rows.begin(), rows.end(), [](auto& a, auto& b) { return a.at < b.at; });
  // More slots than nanoseconds in the span: buckets of no width.
  const auto line = std::make_unique<trend<16384, 1>>(std::array{12e-6}, 1.0);
  for (const auto& row : rows) line->update(row.at, row.y);
  return *line->fit(0);
}

TEST(trend, agrees_with_the_certified_values_of_norris) {
  const auto fit = fit_of_norris({}, 0);
  EXPECT_EQ(fit.count, 36);
  EXPECT_NEAR(fit.rate / x_per_second, norris_slope, 1e-11);
  // The residuals are 6e-6 of the sum of squares, so five digits fewer than the slope has.
  EXPECT_NEAR(std::sqrt(fit.variance), norris_residual_sd, 1e-9 * norris_residual_sd);
  EXPECT_NEAR(std::sqrt(fit.variance / fit.time_moment) / x_per_second, norris_slope_sd,
              1e-9 * norris_slope_sd);
  // The stamp of a mean is rounded to the nanosecond, here a tenth of a unit.
  EXPECT_NEAR(fit.at(-999.0 / x_per_second), norris_intercept, 0.1);
}

TEST(trend, stamps_of_the_unix_epoch_change_not_one_bit) {
  const auto here = fit_of_norris({}, 0);
  const auto epoch = fit_of_norris(seconds(1'700'000'000), 0);
  EXPECT_EQ(here.rate, epoch.rate);
  EXPECT_EQ(here.level, epoch.level);
  EXPECT_EQ(here.variance, epoch.variance);
  EXPECT_EQ(here.lag_one, epoch.lag_one);
  EXPECT_EQ(here.middle, epoch.middle);
}

TEST(trend, a_large_constant_in_the_values_changes_next_to_nothing) {
  const auto fit = fit_of_norris({}, 1e6);
  EXPECT_NEAR(fit.rate / x_per_second, norris_slope, 1e-10);
  EXPECT_NEAR(std::sqrt(fit.variance), norris_residual_sd, 1e-6);
}

// --- against two passes ---------------------------------------------------------------------

constexpr std::array spans{60.0, 90.0, 120.0, 180.0};

/// Everything `trend` says, after every value, for every span.
void compare(const std::vector<sample>& rows) {
  trend<> line{spans, 0.25};
  std::deque<sample> seen;
  for (const auto& row : rows) {
    line.update(row.at, row.y);
    seen.push_back(row);
    while (row.at - seen.front().at > seconds(181)) seen.pop_front();
    for (std::size_t k = 0; k < spans.size(); ++k) {
      const auto wanted = two_passes(seen, *duration_from_seconds(spans[k]));
      const auto fit = line.fit(k);
      ASSERT_EQ(fit.has_value(), wanted.count >= 3);
      if (!fit) continue;
      ASSERT_EQ(fit->count, static_cast<double>(wanted.count));
      const double sd = std::sqrt(of(wanted.variance / wanted.time_moment));
      ASSERT_NEAR(fit->rate, of(wanted.rate), 1e-6 * sd) << row.at.time_since_epoch().count();
      ASSERT_NEAR(fit->level, of(wanted.level), 1e-9);
      ASSERT_NEAR(fit->time_moment, of(wanted.time_moment), 1e-9 * of(wanted.time_moment));
      ASSERT_NEAR(fit->variance, of(wanted.variance), 1e-6 * of(wanted.variance));
      if (wanted.count > 5) {
        ASSERT_NEAR(fit->lag_one, of(wanted.lag_one), 1e-6);
      }
    }
  }
}

std::vector<sample> noisy(std::uint32_t seed, int count, auto&& step) {
  std::mt19937 random{seed};
  std::normal_distribution<double> noise;
  std::vector<sample> rows;
  instant t{seconds(1'700'000'000)};
  for (int i = 0; i < count; ++i) {
    t += step(random);
    rows.push_back({t, 520 + 0.02 * i + noise(random)});
  }
  return rows;
}

TEST(trend, agrees_with_two_passes_at_one_hertz) {
  compare(noisy(1, 2000, [](auto&) { return seconds(1); }));
}

TEST(trend, agrees_with_two_passes_at_uneven_steps) {
  compare(noisy(2, 3000, [](auto& random) {
    return milliseconds(1000 + static_cast<std::int64_t>(random() % 3000));
  }));
}

TEST(trend, agrees_with_two_passes_across_gaps_short_and_long) {
  compare(noisy(3, 4000, [](auto& random) {
    if (random() % 100 == 0) return seconds(static_cast<std::int64_t>(random() % 400));
    return milliseconds(1000 + static_cast<std::int64_t>(random() % 700));
  }));
}

// --- time buckets ---------------------------------------------------------------------------

TEST(trend, any_sampling_rate_sees_the_same_line) {
  for (const int hertz : {1, 2, 5, 10, 100, 1000}) {
    trend<> line{spans, 0.25};
    const int count = 200 * hertz;
    for (int i = 0; i <= count; ++i)
      line.update(instant{milliseconds(1000 / hertz * i)}, 400 + 0.05 * i / hertz);
    const auto fit = line.fit(3);
    ASSERT_TRUE(fit) << hertz;
    EXPECT_NEAR(fit->rate, 0.05, 1e-12) << hertz;
    EXPECT_NEAR(fit->at(0), 410, 0.05) << hertz;
    EXPECT_NEAR(fit->span, 180, 1.5) << hertz;
    EXPECT_LE(fit->count, 256) << hertz;
    EXPECT_NEAR(fit->variance, 0, 1e-12) << hertz;
  }
}

TEST(trend, many_values_in_a_bucket_count_as_their_mean) {
  // A hundred values a second about a level: buckets of 0.71 s average 71 of them.
  std::mt19937 random{4};
  std::normal_distribution<double> noise;
  trend<> line{spans, 0.25};
  for (int i = 0; i < 20'000; ++i) line.update(instant{milliseconds(10 * i)}, noise(random));
  const auto fit = line.fit(3);
  ASSERT_TRUE(fit);
  EXPECT_NEAR(fit->variance, 1.0 / 71, 0.3 / 71);
  EXPECT_NEAR(fit->lag_one, 0, 0.2) << "white noise stays white";
}

TEST(trend, old_values_leave_the_window) {
  trend<> line{spans, 0.25};
  for (int i = 0; i < 300; ++i) line.update(instant{seconds(i)}, i < 150 ? 300 + 2 * i : 600);
  // At 299 s the last 120 s are flat, the last 180 s are not.
  EXPECT_EQ(line.fit(2)->rate, 0);
  EXPECT_GT(line.fit(3)->rate, 0.1);
  EXPECT_EQ(line.fit(2)->first, instant{seconds(179)});
}

TEST(trend, after_clear_is_as_new) {
  trend<> used{spans, 0.25}, fresh{spans, 0.25};
  for (int i = 0; i < 500; ++i) used.update(instant{seconds(i)}, 100 + i % 17);
  used.clear();
  EXPECT_FALSE(used.fit(0));
  EXPECT_FALSE(used.covers(0, 0.9));
  for (int i = 0; i < 500; ++i) {
    const instant t{seconds(9000 + i)};
    used.update(t, 400 + i % 13), fresh.update(t, 400 + i % 13);
  }
  for (std::size_t k = 0; k < spans.size(); ++k) {
    EXPECT_EQ(used.fit(k)->rate, fresh.fit(k)->rate);
    EXPECT_EQ(used.fit(k)->variance, fresh.fit(k)->variance);
    EXPECT_EQ(used.covers(k, 0.9), fresh.covers(k, 0.9));
  }
}

TEST(trend, many_values_of_one_instant_are_one) {
  trend<> line{spans, 0.25};
  for (int i = 0; i < 90; ++i)
    for (int again = 0; again < 5; ++again) line.update(instant{seconds(i)}, 20 + again);
  const auto fit = line.fit(0);
  ASSERT_TRUE(fit);
  EXPECT_EQ(fit->rate, 0);
  EXPECT_EQ(fit->level, 22);
  EXPECT_EQ(fit->count, 61);
}

// --- coverage -------------------------------------------------------------------------------

TEST(covers, a_window_that_is_not_full_is_not_covered) {
  trend<> line{spans, 0.25};
  for (int i = 0; i <= 53; ++i) line.update(instant{seconds(i)}, 500);
  EXPECT_FALSE(line.covers(0, 0.9)) << "53 s of 60";
  line.update(instant{seconds(54)}, 500);
  EXPECT_TRUE(line.covers(0, 0.9));
  EXPECT_FALSE(line.covers(1, 0.9));
}

TEST(covers, a_hole_in_the_window_spoils_it_until_it_has_passed) {
  trend<> line{spans, 0.25};
  int t = 0;
  for (; t < 100; ++t) line.update(instant{seconds(t)}, 500);
  EXPECT_TRUE(line.covers(0, 0.9));
  t += 20;  // more than a quarter of 60 s, less than a quarter of 120 s
  const int back = t;
  line.update(instant{seconds(t)}, 500);
  EXPECT_FALSE(line.covers(0, 0.9)) << "in the row that ends the silence";
  for (++t; t < back + 54; ++t) {
    line.update(instant{seconds(t)}, 500);
    EXPECT_FALSE(line.covers(0, 0.9)) << t - back;
  }
  line.update(instant{seconds(t + 8)}, 500);
  EXPECT_TRUE(line.covers(0, 0.9)) << "62 s later";
  EXPECT_TRUE(line.covers(2, 0.9)) << "20 s are no hole in 120 s";
}

// --- quantisation ---------------------------------------------------------------------------

struct worst_case {
  int n;
  double k;
};
// Derived: the most a slope moves by rounding errors of at most q/2 is k q/W, k = 1.5 (n-1)/n
// for odd n, 1.5 n/(n+1) for even n, by errors of the sign of t - mean t. Recomputed.
constexpr worst_case worst_cases[]{{3, 1},          {5, 1.2},         {12, 1.384615},
                                   {13, 1.384615},  {60, 1.475410},   {61, 1.475410},
                                   {121, 1.487603}, {181, 1.491713}};

TEST(trend, rounding_moves_a_slope_by_at_most_one_and_a_half_steps_per_window) {
  for (const auto& [n, k] : worst_cases) {
    trend<> line{spans, 1.0};
    for (int i = 0; i < n; ++i) {
      const int side = 2 * i - (n - 1);
      line.update(instant{seconds(i)}, side == 0 ? 0 : side > 0 ? 0.5 : -0.5);
    }
    EXPECT_NEAR(line.fit(3)->rate * (n - 1), k, 1e-6) << n;
    EXPECT_LE(line.fit(3)->rate * (n - 1), 1.5) << n;
  }
}

TEST(trend, a_rounded_ramp_stays_within_that_bound) {
  for (int hundredths = 0; hundredths < 400; hundredths += 7) {
    const double slope = hundredths / 100.0 / 60;  // up to 4 steps a minute
    trend<> line{spans, 1.0};
    for (int i = 0; i < 400; ++i) {
      line.update(instant{seconds(i)}, std::floor(470.3 + slope * i + 0.5));
      for (std::size_t k = 0; k < spans.size(); ++k) {
        const auto fit = line.fit(k);
        if (!fit) continue;
        ASSERT_LE(std::abs(fit->rate - slope), 1.5 / fit->span + 1e-12) << slope << " at " << i;
      }
    }
  }
}

// --- autocorrelation ------------------------------------------------------------------------

TEST(trend, sees_how_the_noise_leans_on_itself) {
  std::mt19937 random{5};
  std::normal_distribution<double> noise;
  for (const double rho : {0.0, 0.5, 0.8}) {
    double sum = 0;
    constexpr int runs = 400;
    for (int run = 0; run < runs; ++run) {
      trend<> line{spans, 0.25};
      double x = noise(random);
      for (int i = 0; i <= 181; ++i) {
        line.update(instant{seconds(i)}, 500 + 0.1 * i + x);
        x = rho * x + std::sqrt(1 - rho * rho) * noise(random);
      }
      sum += line.fit(3)->lag_one;
    }
    // Low by about 4 rho/n: see corrected_autocorrelation.
    EXPECT_NEAR(sum / runs, rho - 4 * rho / 181, 0.02) << rho;
  }
}

}  // namespace
}  // namespace stilling
