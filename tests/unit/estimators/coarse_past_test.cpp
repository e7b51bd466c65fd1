// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT

#include "stilling/estimators/coarse_past.hpp"

#include <gtest/gtest.h>

#include <type_traits>

namespace stilling {
namespace {

static_assert(std::is_trivially_copyable_v<coarse_past>);
static_assert(sizeof(coarse_past) < 2048, "fixed memory, however long it goes on");

constexpr instant start = instant{} + seconds(1440000000);

TEST(coarse_past, keeps_a_mean_per_nine_seconds) {
  coarse_past past;
  for (int i = 0; i <= 18; ++i) past.update(start + seconds(i), 300 + i);
  ASSERT_EQ(past.rows().size(), 2u);
  // The first row of all stands for no time; 1 to 8 s, then 9 to 17 s, about the first value.
  EXPECT_DOUBLE_EQ(past.rows()[0].t, 4.5);
  EXPECT_DOUBLE_EQ(past.rows()[0].y, 4.5);
  EXPECT_DOUBLE_EQ(past.rows()[0].weight, 8);
  EXPECT_DOUBLE_EQ(past.rows()[1].t, 13);
  EXPECT_DOUBLE_EQ(past.rows()[1].weight, 9);
  EXPECT_EQ(past.closed(), 2u);
}

TEST(coarse_past, weighs_rows_by_the_time_they_stand_for) {
  coarse_past past;
  past.update(start, 0);
  for (int i = 1; i <= 8; ++i) past.update(start + milliseconds(500 * i), 1);  // 4 s of ones
  past.update(start + seconds(8), 3);                                          // 4 s of a three
  past.update(start + seconds(100), 0);  // a minute at most, whatever the silence before
  past.update(start + seconds(120), 0);
  ASSERT_EQ(past.rows().size(), 2u);
  EXPECT_DOUBLE_EQ(past.rows()[0].y, 2);
  EXPECT_DOUBLE_EQ(past.rows()[1].weight, 60);
}

TEST(coarse_past, forgets_what_is_old_and_everything_when_told) {
  coarse_past past;
  for (int i = 0; i < 3000; ++i) past.update(start + seconds(i), i);
  EXPECT_EQ(past.rows().size(), coarse_past::places);
  EXPECT_EQ(past.closed(), 2999u / 9);
  EXPECT_GT(past.rows().front().t, 2999 - 9.0 * (coarse_past::places + 2));
  past.clear();
  EXPECT_TRUE(past.rows().empty());
  EXPECT_EQ(past.closed(), 0u);
}

}  // namespace
}  // namespace stilling
