// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#include "stilling/visit/yearly_trend.hpp"

#include <gtest/gtest.h>

#include <array>
#include <cmath>
#include <random>
#include <vector>

namespace stilling {
namespace {

constexpr std::array on_a_line{dated_value{0, 10, 0.1}, dated_value{1, 12, 0.1},
                               dated_value{2, 14, 0.1}};
static_assert(trend_of(on_a_line)->rate == 2);
static_assert(!trend_of(std::span{on_a_line}.first(2)));

TEST(yearly_trend, of_tests_on_a_line_is_as_sure_as_they_are) {
  const auto t = trend_of(on_a_line);
  ASSERT_TRUE(t);
  // u of a slope of values 1 apart: u / sqrt(sum (x - mean)^2) = 0.1 / sqrt(2); k = 2.
  EXPECT_NEAR(t->expanded, 2 * 0.1 / std::sqrt(2.0), 1e-12);
  EXPECT_EQ(t->tests, 3U);
  EXPECT_EQ(t->years, 2);
  EXPECT_TRUE(t->real());
}

TEST(yearly_trend, of_scattered_tests_is_what_plain_least_squares_says) {
  // Scatter far above u: worked by hand. y = 0, 3, 1, 4 at x = 0..3:
  // slope 1.0, residuals -0.5, 1.5, -1.5, 0.5, s^2 = 5/2, se = sqrt(2.5/5), t(2) = 4.30265.
  const std::array values{dated_value{0, 0, 1e-6}, dated_value{1, 3, 1e-6},
                          dated_value{2, 1, 1e-6}, dated_value{3, 4, 1e-6}};
  const auto t = trend_of(values);
  ASSERT_TRUE(t);
  EXPECT_NEAR(t->rate, 1.0, 1e-9);
  EXPECT_NEAR(t->expanded, 4.30265 * std::sqrt(0.5), 1e-4);
  EXPECT_FALSE(t->real());
}

TEST(yearly_trend, of_a_doubtful_test_is_doubtful) {
  // 1.5 x 20 of the last of four, 1 apart: u of the slope is 30/5.
  const std::array values{dated_value{0, 10, 0.1}, dated_value{1, 11, 0.1},
                          dated_value{2, 12, 0.1}, dated_value{3, 13, 20}};
  EXPECT_NEAR(trend_of(values)->expanded, 12, 0.01);
}

TEST(yearly_trend, asks_for_three_tests_on_different_days) {
  const std::array one_day{dated_value{5, 1, 0.1}, dated_value{5, 2, 0.1}, dated_value{5, 3, 0.1}};
  EXPECT_FALSE(trend_of(one_day));
  EXPECT_FALSE(trend_of({}));
}

TEST(yearly_trend, without_uncertainties_leans_on_the_scatter_alone) {
  const std::array flat{dated_value{0, 1, 0}, dated_value{1, 1, 0}, dated_value{2, 1, 0}};
  EXPECT_EQ(trend_of(flat)->rate, 0);
  EXPECT_FALSE(trend_of(flat)->real());
  const std::array values{dated_value{0, 0, 0}, dated_value{1, 3, 0}, dated_value{2, 1, 0},
                          dated_value{3, 4, 0}};
  EXPECT_NEAR(trend_of(values)->expanded, 4.30265 * std::sqrt(0.5), 1e-4);
}

/// How often the interval holds the true rate; `scatter`: of tests beyond their uncertainty.
double coverage(std::size_t tests, double scatter, bool uneven) {
  std::mt19937_64 random{20261125 + tests};
  std::normal_distribution<double> normal;
  constexpr int runs = 4000;
  int held = 0;
  for (int run = 0; run < runs; ++run) {
    std::vector<dated_value> values;
    for (std::size_t i = 0; i < tests; ++i) {
      const double u = uneven && i % 2 == 1 ? 3 : 1;
      const double x = static_cast<double>(i) + 0.2 * normal(random);
      values.push_back({x, 7 - 0.8 * x + u * normal(random) + scatter * normal(random), u});
    }
    const auto t = trend_of(values);
    held += std::abs(t->rate + 0.8) <= t->expanded ? 1 : 0;
  }
  return static_cast<double>(held) / runs;
}

TEST(yearly_trend, holds_the_true_rate_nineteen_times_in_twenty) {
  for (const std::size_t tests : {3U, 5U, 10U})
    for (const double scatter : {0.0, 1.0, 10.0})
      for (const bool uneven : {false, true})
        EXPECT_GE(coverage(tests, scatter, uneven), 0.94)
            << tests << " tests, scatter " << scatter << (uneven ? ", uneven" : "");
}

}  // namespace
}  // namespace stilling
