// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT

#include "stilling/estimators/agreement.hpp"

#include <gtest/gtest.h>

#include <initializer_list>

namespace stilling {
namespace {

constexpr window<double, 10> of(std::initializer_list<double> values, unit u = unit::kelvin) {
  window<double, 10> w;
  for (const double x : values) w.push(to_canonical(u, x));
  return w;
}
constexpr double vary(std::initializer_list<double> values, variation as) {
  return variation_of(of(values), as);
}

static_assert(vary({}, variation::range) == 0 && vary({}, variation::from_mean) == 0);
static_assert(vary({7}, variation::range) == 0 && vary({7}, variation::successive) == 0);
static_assert(vary({3, 1, 2}, variation::range) == 2);
static_assert(vary({0, 3, 6}, variation::range) == 6);
static_assert(vary({0, 3, 6}, variation::successive) == 3);
static_assert(vary({6, 3, 0}, variation::successive) == 3);
static_assert(vary({0, 0, 0, 4}, variation::from_mean) == 3);
static_assert(vary({4, 4, 4, 0}, variation::from_mean) == 3);

TEST(agreement, is_at_most_the_limit_whatever_its_binary_digits) {
  const tolerance fifth{variation::range, unit::fraction, 0.2, 0};
  static_assert(0.1 + 0.2 - 0.1 > 0.2 && 0.3 - 0.1 < 0.2);
  EXPECT_TRUE(agree(of({0.1, 0.1 + 0.2}, unit::fraction), fifth));
  EXPECT_TRUE(agree(of({0.1, 0.3}, unit::fraction), fifth));
  EXPECT_FALSE(agree(of({0.1, 0.3000001}, unit::fraction), fifth));
}

TEST(agreement, is_held_against_the_unit_of_the_limit) {
  const tolerance five{variation::range, unit::fahrenheit, 5, 0};
  EXPECT_TRUE(agree(of({540, 545}, unit::fahrenheit), five));
  EXPECT_FALSE(agree(of({540, 545.1}, unit::fahrenheit), five));
  EXPECT_TRUE(agree(of({300, 302.77}, unit::celsius), five));
  EXPECT_FALSE(agree(of({300, 302.79}, unit::celsius), five));
}

// 40 CFR 63 Subpart ZZZZ App. A 13.1 (2015 ed.): 2 % or 1 ppm, whichever is less restrictive; its
// example, a mean of 30 ppm and no reading below 29 or above 31.
TEST(agreement, takes_the_larger_of_two_limits) {
  const tolerance within{variation::from_mean, unit::ppm, 1, 0.02};
  EXPECT_TRUE(agree(of({29, 31}, unit::ppm), within));
  EXPECT_FALSE(agree(of({28.9, 31.1}, unit::ppm), within));
  EXPECT_TRUE(agree(of({98, 102}, unit::ppm), within)) << "2 % of 100";
  EXPECT_FALSE(agree(of({97.9, 102.1}, unit::ppm), within));
  const tolerance share{variation::range, unit::pascal, 0, 0.1};
  EXPECT_TRUE(agree(of({-20, -18.1}), share)) << "of the mean's size, suction too";
  EXPECT_FALSE(agree(of({-20, -17.9}), share));
}

TEST(agreement, of_a_limit_of_nothing_is_sameness) {
  const tolerance none{variation::range, unit::ppm, 0, 0};
  EXPECT_TRUE(agree(of({5, 5, 5}, unit::ppm), none));
  EXPECT_FALSE(agree(of({5, 5, 5.1}, unit::ppm), none));
}

}  // namespace
}  // namespace stilling
