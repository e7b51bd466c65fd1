// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT

#include "stilling/estimators/relaxation.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <random>

namespace stilling {
namespace {

constexpr instant start = instant{} + seconds(1440000000);
constexpr double limit = 3.0 / 60;  // a second

template <class Course>
coarse_past past_of(Course y, int until, double noise = 0, unsigned seed = 1) {
  auto draw = std::mt19937{seed};
  auto normal = std::normal_distribution<>{};
  coarse_past past;
  for (int t = 0; t <= until; ++t) past.update(start + seconds(t), y(t) + noise * normal(draw));
  return past;
}

std::optional<relaxed_rate> rate_of(const coarse_past& past, double density) {
  return relaxation::rate_of(past, {limit, density});
}

TEST(relaxation, tells_the_rate_at_the_end_and_not_in_the_middle) {
  for (const double tau : {80.0, 100.0, 160.0, 240.0}) {
    const auto y = [&](double t) { return 400 - 420 * std::exp(-t / tau); };
    const int now = static_cast<int>(tau * std::log(420 / tau / limit));  // at the limit
    const auto found = rate_of(past_of(y, now), 0.1);
    ASSERT_TRUE(found) << tau;
    EXPECT_NEAR(found->rate, limit, 0.15 * limit) << tau;  // the last mean ends some seconds before
    EXPECT_LT(found->uncertainty, 0.1 * limit);
  }
}

TEST(relaxation, knows_two_time_constants) {
  const auto y = [](double t) {
    return 300 * (1 - std::exp(-t / 90)) + 40 * (1 - std::exp(-t / 600));
  };
  const auto found = rate_of(past_of(y, 700), 0.01);
  const double now = 300.0 / 90 * std::exp(-700.0 / 90) + 40.0 / 600 * std::exp(-700.0 / 600);
  ASSERT_TRUE(found);
  EXPECT_NEAR(found->rate, now, 0.1 * limit);
}

TEST(relaxation, a_ramp_stays_a_ramp) {
  for (const double rate : {4.0, 3.5, 2.0, -4.0}) {
    const auto found = rate_of(past_of([&](double t) { return 300 + rate / 60 * t; }, 500, 1), 1);
    ASSERT_TRUE(found);
    EXPECT_NEAR(found->rate, rate / 60, 4 * found->uncertainty + 1e-6) << rate;
    EXPECT_LT(found->uncertainty, 0.2 * limit);
  }
}

/// The interval is what it says: of many courses under noise, with time constants on the grid
/// and between, the true rate is within it in about 95 of 100.
TEST(relaxation, is_as_uncertain_as_it_says) {
  int held = 0;
  constexpr int runs = 200;
  for (unsigned seed = 1; seed <= runs; ++seed) {
    const double tau = 60 + seed;
    const auto y = [&](double t) { return 300 - 200 * std::exp(-t / tau) + 1.0 / 60 * t; };
    const double now = 200 / tau * std::exp(-600 / tau) + 1.0 / 60;
    const auto found = rate_of(past_of(y, 600, 1, seed), 1);
    ASSERT_TRUE(found);
    held += std::abs(found->rate - now) <= student_t(0.975, found->freedom) * found->uncertainty;
  }
  EXPECT_GE(held, runs * 9 / 10);
}

TEST(relaxation, says_nothing_of_a_short_past_and_looks_no_further_back_than_a_break) {
  EXPECT_FALSE(rate_of(past_of([](double) { return 300.0; }, 200), 0.01));
  EXPECT_FALSE(rate_of(coarse_past{}, 0.01));
  // Thrown back by 60 in the middle: no curve of the family, so only what came after may speak.
  const auto thrown = [](double t) { return t < 280 ? 400.0 + 20 * std::sin(t / 15) : 340.0; };
  const auto found = rate_of(past_of(thrown, 660, 0.3), 0.1);
  if (found) {
    EXPECT_NEAR(found->rate, 0, 0.3 * limit);
  }
}

TEST(relaxation, a_display_that_sits_still_is_no_division_by_nothing) {
  const auto found = rate_of(past_of([](double) { return 300.0; }, 600), 0);
  ASSERT_TRUE(found);
  EXPECT_EQ(found->rate, 0);
  EXPECT_TRUE(std::isfinite(found->uncertainty));
}

}  // namespace
}  // namespace stilling
