// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT

#include "stilling/estimators/leaning_rows.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <vector>

namespace stilling {
namespace {

static_assert(leaning_rows::candidates[0] == 0);
static_assert(leaning_rows::lean{0.5, 2}.free(3, 4) == 2);

std::vector<condensed_rows> every(double apart, std::size_t n) {
  std::vector<condensed_rows> rows(n);
  for (std::size_t i = 0; i < n; ++i) rows[i].t = 7 + apart * static_cast<double>(i);
  return rows;
}

TEST(leaning_rows, lean_by_the_candidate_at_the_mean_distance) {
  const auto rows = every(5, 21);
  const leaning_rows x{rows};
  EXPECT_EQ(x.length(), 100);
  EXPECT_EQ(x.t(3), 15);
  for (std::size_t p = 0; p < leaning_rows::count; ++p) {
    const auto lean = x.of(p, 4);
    EXPECT_NEAR(lean.by, leaning_rows::candidates[p], 1e-12);
    EXPECT_NEAR(lean.weight, 1 / std::sqrt(1 - lean.by * lean.by), 1e-12);
    EXPECT_EQ(x.of(p, 0).by, 0) << "the first leans on none";
  }
}

TEST(leaning_rows, lean_less_over_a_gap) {
  auto rows = every(1, 11);
  for (std::size_t i = 5; i < 11; ++i) rows[i].t += 5;
  const leaning_rows x{rows};
  // phi to the power of distances: e^(-6 d) is (e^-d)^6.
  EXPECT_NEAR(x.of(4, 5).by, std::pow(x.of(4, 4).by, 6), 1e-12);
}

TEST(leaning_rows, never_lean_wholly) {
  auto rows = every(1, 11);
  rows[5].t = rows[4].t;
  const leaning_rows x{rows};
  EXPECT_LT(x.of(7, 5).by, 1);
  EXPECT_TRUE(std::isfinite(x.of(7, 5).weight));
}

TEST(leaning_rows, know_the_mean_of_an_exponential_over_a_joined_row) {
  condensed_past<16> past;
  const double tau = 60;
  for (int i = 0; i < 16 * 8 - 1; ++i) past.update(instant{seconds(i)}, std::exp(-i / tau));
  const leaning_rows x{past.rows()};
  // Relative to its first row, and past.first_value() is 1.
  const double shift = std::exp(-past.rows()[0].t / tau);
  for (std::size_t i = 0; i < x.size(); ++i)
    EXPECT_NEAR(1 + x.y(i), shift * x.decayed(i, tau), 2e-6) << i;
}

}  // namespace
}  // namespace stilling
