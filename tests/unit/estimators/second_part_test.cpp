// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT

#include "stilling/estimators/second_part.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <vector>

#include "support/flue.hpp"

namespace stilling {
namespace {

second_part found(double slow_share, std::size_t n, std::uint64_t seed, double rho = 0.5) {
  invented::slow_noise draw{seed, rho};
  std::vector<condensed_rows> rows(n);
  for (std::size_t i = 0; i < n; ++i) {
    const double t = 5 * static_cast<double>(i);
    rows[i] = {t,
               300 * (1 - std::exp(-t / 100)) + slow_share * 300 * (1 - std::exp(-t / 500)) +
                   draw(),
               0};
  }
  return second_part_test::of(exponential_posterior{leaning_rows{rows}, 0});
}

TEST(second_part_test, hears_a_slow_part_in_time) {
  int early = 0, late = 0;
  for (std::uint64_t seed = 1; seed <= 50; ++seed) {
    early += found(0.1, 30, seed).gain > 7.5;
    late += found(0.1, 160, seed).gain > 7.5;
  }
  EXPECT_LE(early, 15) << "150 s: nothing of it can show yet";
  EXPECT_GE(late, 45);
}

/// Under the null the threshold of 7.5 is passed in one to five runs of a hundred.
TEST(second_part_test, seldom_hears_one_where_there_is_none) {
  int heard = 0;
  for (std::uint64_t seed = 1; seed <= 100; ++seed) heard += found(0, 120, seed).gain > 7.5;
  EXPECT_LE(heard, 10);
}

TEST(second_part_test, says_whether_one_could_have_shown) {
  EXPECT_LT(found(0, 30, 1).sight, 4);
  EXPECT_GT(found(0, 160, 1).sight, 4);
  EXPECT_LT(found(0, 80, 1, 0.9).sight, found(0, 80, 1, 0).sight) << "slow noise hides it";
}

TEST(second_part_test, hears_a_rise_that_begins_slowly) {
  invented::noise draw{3};
  std::vector<condensed_rows> rows(100);
  for (std::size_t i = 0; i < rows.size(); ++i) {
    const double t = 5 * static_cast<double>(i);
    rows[i] = {t, 300 * (1 - (100 * std::exp(-t / 100) - 40 * std::exp(-t / 40)) / 60) + draw(), 0};
  }
  EXPECT_GT((second_part_test::of(exponential_posterior{leaning_rows{rows}, 0}).gain), 7.5);
}

}  // namespace
}  // namespace stilling
