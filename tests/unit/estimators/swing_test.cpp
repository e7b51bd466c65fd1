// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#include "stilling/estimators/swing.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>

#include "stilling/estimators/trend.hpp"

namespace stilling {
namespace {

static_assert(amplitude_of({.period = 30, .noise = 0, .scatter = 0}) == 0);
static_assert(amplitude_of({.period = 30, .noise = 2, .scatter = 1}) == 0, "noise is no swing");

constexpr std::array spans{60.0, 90.0, 120.0, 180.0};

/// A level that moves by `rate` per second, swinging by `amplitude`; one value a second.
trend<> swinging(double rate, double amplitude, double period, int length, double phase = 0) {
  trend<> line{spans, 0.25};
  for (int t = 0; t <= length; ++t)
    line.update(instant{seconds(t)},
                100 + rate * t +
                    amplitude * std::sin(2 * std::numbers::pi * (t / period + phase)));
  return line;
}

constexpr swing_facts facts(double amplitude, double period) {
  return {.period = period, .noise = 0, .scatter = amplitude / std::numbers::sqrt2, .spacing = 1,
          .least_span = 60};
}

TEST(swing, cancels_in_the_mean_of_whole_periods_whatever_its_phase) {
  for (const double period : {20.0, 45.0, 70.0}) {
    double by_line = 0, by_periods = 0;
    for (int i = 0; i < 8; ++i) {
      const auto line = swinging(0, 3, period, 200, i / 8.0);
      const auto mean = trend_in_swing(line, facts(3, period));
      ASSERT_TRUE(mean);
      by_periods = std::max(by_periods, std::abs(mean->rate));
      by_line = std::max(by_line, std::abs(line.fit(1)->rate));
    }
    EXPECT_LT(by_periods, 0.002);
    EXPECT_LT(5 * by_periods, by_line) << "a straight line moves with the phase";
  }
}

TEST(swing, leaves_the_trend_underneath) {
  const auto mean = trend_in_swing(swinging(0.05, 3, 30, 200), facts(3, 30));
  ASSERT_TRUE(mean);
  EXPECT_NEAR(mean->rate, 0.05, 0.002);
  EXPECT_NEAR(mean->level, 110, 0.2);
  EXPECT_EQ(mean->span, 60);
  EXPECT_NEAR(mean->amplitude, 3, 1e-9);
}

TEST(swing, covers_at_least_the_least_span) {
  const auto mean = trend_in_swing(swinging(0, 1, 11, 200), facts(1, 11));
  ASSERT_TRUE(mean);
  EXPECT_GE(mean->span, 60);
  EXPECT_LT(mean->span, 60 + 22);
}

TEST(swing, has_no_trend_before_two_periods_were_seen) {
  EXPECT_FALSE(trend_in_swing(swinging(0, 1, 50, 80), facts(1, 50)));
}

TEST(swing, is_less_certain_with_more_noise_and_more_amplitude) {
  const auto line = swinging(0, 1, 30, 200);
  auto quiet = facts(1, 30), noisy = quiet, wide = facts(4, 30);
  noisy.noise = 0.5;
  EXPECT_LT(trend_in_swing(line, quiet)->uncertainty, trend_in_swing(line, noisy)->uncertainty);
  EXPECT_LT(trend_in_swing(line, quiet)->uncertainty, trend_in_swing(line, wide)->uncertainty);
}

}  // namespace
}  // namespace stilling
