// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT

#include "stilling/offline/finished_series.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <limits>
#include <vector>

namespace stilling {
namespace {

using numbers = std::vector<double>;

TEST(finished_series, passes_over_what_is_no_row) {
  const double nan = std::numeric_limits<double>::quiet_NaN();
  const numbers t{0, 1, 1, 0.5, 2, nan, 3}, y{5, 5, 9, 9, nan, 9, 5};
  const finished_series s{t, y, 0, 60};
  ASSERT_EQ(s.size(), 3U);
  EXPECT_EQ(s.t(1), 1);
  EXPECT_EQ(s.t(2), 3);
  EXPECT_EQ((finished_series{{}, {}, 1, 60}.size()), 0U);
}

TEST(finished_series, clips_a_spike_and_leaves_a_step) {
  numbers t, y;
  for (int i = 0; i < 60; ++i) t.push_back(i), y.push_back((i < 30 ? 300 : 350) + i * 7 % 3);
  const numbers before = y;
  y[12] = 900;
  y[44] = y[45] = 0;
  const finished_series s{t, y, 1, 60};
  EXPECT_LT(s.y(12), 310);
  EXPECT_GT(s.y(44), 340);
  for (std::size_t i = 0; i < t.size(); ++i) {
    if (i != 12 && i != 44 && i != 45) {
      EXPECT_EQ(s.y(i), before[i]) << i;
    }
  }
}

TEST(finished_series, knows_its_spacing_and_its_silences) {
  const numbers t{0, 2, 4, 6, 90, 92}, y{1, 1, 1, 1, 1, 1};
  const finished_series s{t, y, 0, 60};
  EXPECT_EQ(s.spacing(), 2);
  EXPECT_TRUE(s.silent_before(4));
  EXPECT_FALSE(s.silent_before(3));
  EXPECT_FALSE(s.silent_before(0));
}

}  // namespace
}  // namespace stilling
