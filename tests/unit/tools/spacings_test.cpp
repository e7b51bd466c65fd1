// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#include "spacings.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <cstdint>
#include <random>
#include <vector>

namespace stilling::command {
namespace {

TEST(spacings, none_at_all) {
  const spacings s;
  EXPECT_EQ(s.count(), 0U);
  EXPECT_EQ(s.median(), duration{});
}

TEST(spacings, few_distances_are_exact) {
  spacings s;
  for (int i = 0; i < 5; ++i) s.add(seconds(1));
  for (int i = 0; i < 4; ++i) s.add(seconds(20));
  EXPECT_EQ(s.median(), seconds(1));
  EXPECT_EQ(s.longer_than(seconds(1)), 4U);
  EXPECT_EQ(s.longer_than(seconds(20)), 0U);
  EXPECT_EQ(s.greatest(), seconds(20));
  s.add(seconds(20));
  EXPECT_EQ(s.median(), seconds(1)) << "of two in the middle the lower";
  s.add(seconds(20));
  EXPECT_EQ(s.median(), seconds(20));
}

TEST(spacings, many_distances_keep_the_median_to_a_step) {
  std::mt19937_64 draw{7};
  std::vector<std::int64_t> all;
  spacings s;
  for (int i = 0; i < 100'000; ++i) {
    const auto ns = static_cast<std::int64_t>(900'000'000 + draw() % 200'000'000);
    all.push_back(ns);
    s.add(duration{ns});
  }
  std::ranges::sort(all);
  const auto median = all[(all.size() - 1) / 2];
  const double off = static_cast<double>(s.median().count() - median);
  EXPECT_LT(off < 0 ? -off : off, 200e6 / spacings::most * 2);
  EXPECT_EQ(s.least().count(), all.front());
  EXPECT_EQ(s.greatest().count(), all.back());
}

}  // namespace
}  // namespace stilling::command
