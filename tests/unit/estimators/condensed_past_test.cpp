// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT

#include "stilling/estimators/condensed_past.hpp"

#include <gtest/gtest.h>

#include <type_traits>

namespace stilling {
namespace {

static_assert(std::is_trivially_copyable_v<condensed_past<>>);

template <std::size_t Places> void feed(condensed_past<Places>& p, int rows, double apart = 1) {
  for (int i = 0; i < rows; ++i)
    p.update(instant{*duration_from_seconds(1000 + apart * i)}, 300 + 2.0 * i);
}

TEST(condensed_past, keeps_few_rows_as_they_are) {
  condensed_past<16> p;
  feed(p, 10, 0.5);
  ASSERT_EQ(p.rows().size(), 10U);
  EXPECT_EQ(p.rows()[3].t, 1.5);
  EXPECT_EQ(p.rows()[3].y, 6);
  EXPECT_EQ(p.rows()[3].spread, 0);
  EXPECT_EQ(p.first_value(), 300);
  EXPECT_EQ(p.newest() - p.origin(), milliseconds(4500));
}

TEST(condensed_past, joins_pairs_when_full_and_goes_on_in_pairs) {
  condensed_past<16> p;
  feed(p, 20);
  ASSERT_EQ(p.rows().size(), 10U);
  for (std::size_t i = 0; i < 10; ++i) {
    EXPECT_EQ(p.rows()[i].t, 2.0 * static_cast<double>(i) + 0.5);
    EXPECT_EQ(p.rows()[i].y, 2 * p.rows()[i].t);
    EXPECT_EQ(p.rows()[i].spread, 0.25);
  }
}

TEST(condensed_past, uses_at_least_half_of_its_places_however_long_it_goes_on) {
  condensed_past<16> p;
  feed(p, 16 * 1024 + 5);
  EXPECT_GE(p.rows().size(), 8U);
  EXPECT_LT(p.rows().size(), 16U);
  // 2048 rows each, one second apart: variance (n^2 - 1)/12 of that many times.
  EXPECT_DOUBLE_EQ(p.rows()[1].spread, (2048.0 * 2048 - 1) / 12);
  EXPECT_DOUBLE_EQ(p.rows()[1].y, 2 * (2048 + 1023.5));
}

TEST(condensed_past, does_not_depend_on_where_time_begins) {
  condensed_past<16> a, b;
  for (int i = 0; i < 100; ++i) {
    a.update(instant{milliseconds(997 * i)}, i);
    b.update(instant{seconds(1'700'000'000) + milliseconds(997 * i)}, i);
  }
  ASSERT_EQ(a.rows().size(), b.rows().size());
  for (std::size_t i = 0; i < a.rows().size(); ++i) {
    EXPECT_EQ(a.rows()[i].t, b.rows()[i].t);
    EXPECT_EQ(a.rows()[i].y, b.rows()[i].y);
  }
}

TEST(condensed_past, is_empty_again_after_clear) {
  condensed_past<16> p;
  feed(p, 100);
  p.clear();
  EXPECT_TRUE(p.rows().empty());
  feed(p, 1);
  EXPECT_EQ(p.rows().size(), 1U);
}

}  // namespace
}  // namespace stilling
