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
    d.update(t, x, 1);
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
  EXPECT_EQ(d.rows(), 2U);
  EXPECT_EQ(d.onset(), instant{seconds(2)});
  EXPECT_EQ(d.lasted(), seconds(3));
}

TEST(departure, asks_for_rows_that_follow_each_other) {
  EXPECT_EQ(after({0, 2, 2, 0.9, 2}).rows(), 1U);
  EXPECT_EQ(after({1, 1, 1}).rows(), 0U) << "the threshold itself is not beyond it";
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
