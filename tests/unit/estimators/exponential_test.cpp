// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT

#include "stilling/estimators/exponential.hpp"

#include <gtest/gtest.h>

#include <cmath>

namespace stilling {
namespace {

static_assert(decay(0) == 1 && decay(1e9) == 0);
static_assert(natural_log(1) == 0);

// Abramowitz and Stegun, Handbook of Mathematical Functions (1964), table 1.1: e^-1 and ln 10.
TEST(exponential, agrees_with_the_tables) {
  EXPECT_NEAR(decay(1), 0.36787944117144233, 1e-15);
  EXPECT_NEAR(natural_log(10), 2.30258509299404568, 1e-14);
}

TEST(exponential, keeps_its_promise_over_the_whole_range) {
  for (double x = 1e-6; x < 700; x *= 1.07)
    EXPECT_NEAR(decay(x) / std::exp(-x), 1, 1e-12) << x;
  for (double x = 1e-9; x < 1e12; x *= 1.3)
    EXPECT_NEAR(natural_log(x), std::log(x), 1e-13 * (1 + std::abs(std::log(x)))) << x;
}

}  // namespace
}  // namespace stilling
