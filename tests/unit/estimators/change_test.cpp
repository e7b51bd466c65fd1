// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT

#include "stilling/estimators/change.hpp"

#include <gtest/gtest.h>

#include <initializer_list>
#include <limits>
#include <type_traits>

namespace stilling {
namespace {

static_assert(std::is_trivially_copyable_v<departure>);
static_assert(departure{}.rows() == 0 && departure{}.lasted() == duration{0});
static_assert(!departure{}.onset());

/// Deviations in thresholds, one row a second from 0 s.
constexpr departure after(std::initializer_list<double> deviations) {
  departure d;
  instant t{};
  for (const double x : deviations) {
    d.update(t, x, {.least = 1});
    t += seconds(1);
  }
  return d;
}
static_assert(after({0.1, -0.1, 0.2}).rows() == 0);
static_assert(after({0, 2, 2, 2}).rows() == 3);

TEST(departure, grows_by_the_rows_beyond_the_threshold) {
  const auto d = after({0, 0, 1.5, 1.5, 1.5});
  EXPECT_EQ(d.rows(), 3U);
  EXPECT_EQ(d.lasted(), seconds(2));
  EXPECT_EQ(d.onset(), instant{seconds(2)});
}

TEST(departure, is_over_once_a_row_is_back) {
  EXPECT_EQ(after({0, 2, 0}).rows(), 0U) << "a lone spike";
  EXPECT_EQ(after({0, 2, 2, 0}).rows(), 0U) << "a gust";
  EXPECT_EQ(after({0, 2, 2, 0, 2}).rows(), 1U) << "and counts from the start";
}

TEST(departure, goes_one_way) {
  EXPECT_EQ(after({0, 2, -2, 2, -2}).rows(), 1U) << "noise goes to and fro";
  EXPECT_EQ(after({0, -2, -2, -2}).rows(), 3U) << "down counts like up";
}

TEST(departure, begins_with_the_rows_already_on_their_way) {
  const auto d = after({0, 0, 0.5, 0.8, 1.5, 2.5});
  EXPECT_EQ(d.rows(), 4U) << "counted from the first on its way";
  EXPECT_EQ(d.onset(), instant{seconds(2)});
  EXPECT_EQ(d.lasted(), seconds(3));
}

TEST(departure, takes_its_rows_together) {
  EXPECT_EQ(after({0, 2, 2, 0.9, 2}).rows(), 4U) << "one row short of it is no return";
  EXPECT_EQ(after({0, 2, 2, 0.7}).rows(), 0U) << "unless it is the newest";
  EXPECT_EQ(after({0, 2, 2, 0.2, 2}).rows(), 1U) << "back at the level it begins anew";
  EXPECT_EQ(after({1, 1, 1}).rows(), 0U) << "the threshold itself is not beyond it";
}

/// Deviations in standard deviations, seven of those of a mean being asked for.
constexpr departure in_noise(std::initializer_list<double> deviations, double inflation = 1) {
  departure d;
  instant t{};
  for (const double x : deviations) {
    d.update(t, x, {.least = 1, .spread = 1, .inflation = inflation, .deviations = 7});
    t += seconds(1);
  }
  return d;
}

TEST(departure, trusts_a_mean_of_several_rows_more_than_one) {
  EXPECT_EQ(in_noise({0, 6}).rows(), 0U);
  EXPECT_EQ(in_noise({0, 5, 5}).rows(), 2U) << "7 / sqrt(2) = 4.95";
  EXPECT_EQ(in_noise({0, 4.9, 4.9}).rows(), 0U);
  EXPECT_EQ(in_noise({0, 4.1, 4.1, 4.1}).rows(), 3U) << "7 / sqrt(3) = 4.04";
}

TEST(departure, trusts_it_less_where_neighbours_lean_on_each_other) {
  // Variance of a mean of three, as the allowance has it: (1 + 3 * 2/3) / 3 = 1.
  EXPECT_EQ(in_noise({0, 6.9, 6.9, 6.9}, 4).rows(), 0U);
  EXPECT_EQ(in_noise({0, 7.1, 7.1, 7.1}, 4).rows(), 3U);
}

TEST(departure, does_not_begin_within_the_noise) {
  EXPECT_EQ(in_noise({1.4, 1.4, 1.4, 8}).rows(), 1U) << "1.5 standard deviations are no onset";
  EXPECT_EQ(in_noise({1.6, 8, 8, 8}).onset(), instant{});
}

TEST(departure, is_not_begun_by_a_drift_of_long) {
  departure d;
  for (int t = 0; t < 60; ++t) d.update(instant{seconds(t)}, 0.5, {.least = 1});
  d.update(instant{seconds(60)}, 5, {.least = 1});
  ASSERT_GT(d.rows(), 0U);
  EXPECT_GE(*d.onset(), instant{seconds(44)});
}

TEST(departure, forgets_when_told) {
  auto d = after({0, 2, 2, 2});
  d.clear();
  EXPECT_EQ(d.rows(), 0U);
  EXPECT_FALSE(d.onset());
  EXPECT_EQ(d.lasted(), duration{0});
}

TEST(departure, takes_what_is_no_number_for_no_departure) {
  EXPECT_EQ(after({0, std::numeric_limits<double>::quiet_NaN()}).rows(), 0U);
}

}  // namespace
}  // namespace stilling
