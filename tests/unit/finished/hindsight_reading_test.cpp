// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT

#include "stilling/finished/hindsight_reading.hpp"

#include <gtest/gtest.h>

#include <cmath>

#include "support/flue.hpp"

namespace stilling {
namespace {

/// 500 K and slow noise, one row a second, with a creep towards it.
kept_rows plateau_of(std::uint64_t seed, double rho, double creep = 0, int rows_wanted = 300) {
  invented::slow_noise draw{seed, rho};
  kept_rows rows;
  for (int t = 0; t < rows_wanted; ++t) {
    verdict v;
    v.row = invented::row(t, channel::stack_temp, 500 - creep * std::exp(-t / 60.0) + draw());
    v.fire.burning = true;
    rows.keep(v);
  }
  return rows;
}

channel_reading read_all(const kept_rows& rows, std::size_t first = 0) {
  return hindsight_reading(channel::stack_temp, rows, 0, first, rows.size() - 1, 120, 0.95);
}

TEST(hindsight_reading, is_the_mean_of_what_is_believed) {
  auto rows = plateau_of(1, 0, 0, 20);
  double sum = 0;
  for (std::size_t i = 5; i < 20; ++i) sum += rows[i].x[index_of(channel::stack_temp)];
  const auto r = read_all(rows, 5);
  EXPECT_NEAR(r.mean, sum / 15, 1e-9);
  EXPECT_EQ(r.count, 15U);
  EXPECT_EQ(r.coverage, 1);
  EXPECT_EQ(r.longest_gap, 1);
  EXPECT_EQ(read_all(rows).count, 20U);
}

TEST(hindsight_reading, has_nothing_for_a_channel_that_is_not_there) {
  const auto rows = plateau_of(1, 0, 0, 20);
  EXPECT_EQ(hindsight_reading(channel::o2, rows, 0, 0, 19, 120, 0.95).count, 0U);
}

/// Twice the standard uncertainty is to cover 95 %; 200 runs, three standard deviations below.
TEST(hindsight_reading, covers_the_level_with_fast_noise_and_with_slow) {
  for (const double rho : {0.0, 0.8, 0.93}) {
    int covered = 0;
    for (std::uint64_t seed = 1; seed <= 200; ++seed) {
      const auto r = read_all(plateau_of(seed, rho));
      covered += std::abs(r.mean - 500) <= 2 * r.standard_uncertainty;
    }
    EXPECT_GE(covered, 181) << rho;
  }
}

TEST(hindsight_reading, bounds_its_rate) {
  int bounded = 0;
  for (std::uint64_t seed = 1; seed <= 100; ++seed) {
    const auto r = read_all(plateau_of(seed, 0.8));
    ASSERT_TRUE(r.rate_bound);
    bounded += std::abs(r.rate) <= *r.rate_bound;
  }
  EXPECT_EQ(bounded, 100);
  auto rows = kept_rows{};
  for (int t = 0; t < 300; ++t) {
    verdict v;
    v.row = invented::row(t, channel::stack_temp, 500 + 0.02 * t);
    rows.keep(v);
  }
  EXPECT_NEAR(read_all(rows).rate, 0.02, 1e-6);
}

TEST(settled_row, leaves_the_creep_out) {
  const auto rows = plateau_of(3, 0.5, 20);
  const auto first = first_settled_row(channel::stack_temp, rows, 0, 299, 120);
  EXPECT_GT(first, 60U);
  EXPECT_LE(first, 180U);
  EXPECT_LE(first_settled_row(channel::stack_temp, plateau_of(3, 0.5), 0, 299, 120), 30U);
}

}  // namespace
}  // namespace stilling
