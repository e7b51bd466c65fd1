// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT

#include "stilling/estimators/approach.hpp"

#include <gtest/gtest.h>

#include <cmath>

namespace stilling {
namespace {

static_assert(!approach_from({}, {}), "no slope, no forecast");

/// The slope, so many seconds ago, of what now has `rest` still to come with time constant `tau`.
slope_at slope(double rest, double tau, double ago, double uncertainty = 0) {
  return {rest / tau * std::exp(ago / tau), uncertainty, ago};
}

// y' = rest/tau e^(-t/tau): both are known exactly.
TEST(approach, is_read_off_two_slopes) {
  for (const double tau : {40.0, 60.0, 120.0, 300.0, 1000.0}) {
    for (const double rest : {20.0, -8.0, 0.5}) {
      const auto a = approach_from(slope(rest, tau, 30), slope(rest, tau, 90));
      ASSERT_TRUE(a) << tau;
      EXPECT_NEAR(a->time_constant, tau, 0.01 * tau);
      EXPECT_NEAR(a->remaining, rest, 0.02 * std::abs(rest)) << tau;
    }
  }
}

TEST(approach, is_refused_where_it_is_none) {
  EXPECT_FALSE(approach_from({0.1, 0, 30}, {0.1, 0, 90})) << "a ramp never ends";
  EXPECT_FALSE(approach_from({0.2, 0, 30}, {0.1, 0, 90})) << "it gains speed";
  EXPECT_FALSE(approach_from({0.1, 0, 30}, {-0.2, 0, 90})) << "it turned round";
  EXPECT_FALSE(approach_from({0, 0, 30}, {0.1, 0, 90})) << "it is over";
  EXPECT_FALSE(approach_from({0.1, 0, 90}, {0.2, 0, 90})) << "two looks at one time";
}

TEST(approach, is_refused_where_chance_would_do) {
  EXPECT_FALSE(approach_from(slope(10, 100, 30, 0.1), slope(10, 100, 90, 0.1)))
      << "slopes as large as their uncertainty";
  EXPECT_FALSE(approach_from({1.0, 0.2, 30}, {1.2, 0.2, 90})) << "that do not differ";
  EXPECT_TRUE(approach_from(slope(10, 100, 30, 0.005), slope(10, 100, 90, 0.005)));
}

}  // namespace
}  // namespace stilling
