// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#include "stilling/visit/comparison.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <random>

#include "stilling/combustion/fuel_table.hpp"

namespace stilling {
namespace {

channel_reading reading(double mean, double u, double freedom) {
  channel_reading r;
  r.mean = mean;
  r.standard_uncertainty = u;
  r.degrees_of_freedom = freedom;
  return r;
}

settled_state state(double stack, double o2, double u_stack, double u_o2) {
  settled_state s;
  s.read.channels.set(channel::stack_temp, reading(stack, u_stack, 50));
  s.read.channels.set(channel::ambient_temp, reading(293.15, 0.1, 50));
  s.read.channels.set(channel::o2, reading(o2, u_o2, 50));
  s.figures = derive(s.read, *find_fuel("no2_oil"));
  return s;
}

TEST(comparison, two_means_differ_by_the_root_of_squares) {
  const auto d =
      difference_of(reading(500, 3, infinite_freedom), reading(510, 4, infinite_freedom));
  EXPECT_DOUBLE_EQ(d.value, 10);
  EXPECT_DOUBLE_EQ(d.standard_uncertainty, 5);
  EXPECT_NEAR(d.factor, 1.960, 1e-3);  // normal quantile, JCGM 100:2008 Table G.1
  EXPECT_TRUE(d.real());
  EXPECT_FALSE(difference_of(reading(500, 3, 1e9), reading(509, 4, 1e9)).real());
}

TEST(comparison, few_degrees_of_freedom_ask_for_more) {
  // Welch and Satterthwaite of two equal parts with 5 each: 10; t of 95 % at 10 is 2.228
  // (JCGM 100:2008 Table G.2).
  const auto d = difference_of(reading(0, 1, 5), reading(3, 1, 5));
  EXPECT_NEAR(d.factor, 2.228, 1e-3);
  EXPECT_FALSE(d.real());
}

TEST(comparison, what_both_share_cancels) {
  const auto a = state(500, 0.06, 0.4, 0.0005), b = state(500, 0.06, 0.4, 0.0005);
  const auto d = compare(a, b)[figure::efficiency_gross];
  ASSERT_TRUE(d);
  EXPECT_EQ(d->value, 0);
  // The fuel's heating value is a large part of one efficiency's uncertainty, and none of this.
  EXPECT_LT(d->standard_uncertainty,
            std::sqrt(2.0) * a.figures[figure::efficiency_gross]->standard_uncertainty / 2);
}

TEST(comparison, linear_propagation_agrees_with_drawing) {
  std::mt19937_64 dice{7};
  std::normal_distribution<double> z;
  running_moments seen;
  const double u_stack = 0.8, u_o2 = 0.0006;
  for (int i = 0; i < 4000; ++i) {
    const auto a = state(500 + u_stack * z(dice), 0.065 + u_o2 * z(dice), u_stack, u_o2);
    const auto b = state(490 + u_stack * z(dice), 0.050 + u_o2 * z(dice), u_stack, u_o2);
    seen.push(b.figures[figure::excess_air]->value - a.figures[figure::excess_air]->value);
  }
  const auto d = compare(state(500, 0.065, u_stack, u_o2),
                         state(490, 0.050, u_stack, u_o2))[figure::excess_air];
  EXPECT_NEAR(seen.mean(), d->value, 4 * d->standard_uncertainty / std::sqrt(4000.0) + 1e-4);
  EXPECT_NEAR(std::sqrt(*seen.variance()) / d->standard_uncertainty, 1, 0.06);
}

TEST(comparison, a_channel_that_one_lacks_is_not_compared) {
  auto a = state(500, 0.06, 0.4, 0.0005);
  const auto b = a;
  a.read.channels.clear(channel::o2);
  a.figures = derive(a.read, *find_fuel("no2_oil"));
  const auto c = compare(a, b);
  EXPECT_FALSE(c.channels.has(channel::o2));
  EXPECT_FALSE(c[figure::efficiency_gross]);
  EXPECT_TRUE(c[figure::net_stack_temp]);
}

}  // namespace
}  // namespace stilling
