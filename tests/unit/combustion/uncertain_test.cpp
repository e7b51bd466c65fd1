// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#include "stilling/combustion/uncertain.hpp"

#include <gtest/gtest.h>

#include <cmath>

namespace stilling {
namespace {

constexpr uncertain x{estimate{3, 0.1}, input::o2};
constexpr uncertain z{estimate{2, 0.2}, input::co};

static_assert(uncertain{5}.standard_uncertainty() == 0);
static_assert((x - x).value == 0 && (x - x).standard_uncertainty() == 0);  // not 0.1 times root 2
static_assert((x + z).value == 5 && (x * z).value == 6 && (x / z).value == 1.5);

// JCGM 100:2008, 5.1.2 with the partial derivatives written out by hand.
TEST(uncertain, four_rules_and_the_root) {
  EXPECT_NEAR((x + z).standard_uncertainty(), std::hypot(0.1, 0.2), 1e-15);
  EXPECT_NEAR((x - z).standard_uncertainty(), std::hypot(0.1, 0.2), 1e-15);
  EXPECT_NEAR((x * z).standard_uncertainty(), std::hypot(2 * 0.1, 3 * 0.2), 1e-15);
  EXPECT_NEAR((x / z).standard_uncertainty(), std::hypot(0.1 / 2, 3 * 0.2 / 4), 1e-15);
  EXPECT_NEAR(square_root(x).standard_uncertainty(), 0.1 / (2 * std::sqrt(3.0)), 1e-15);
  EXPECT_EQ((-x).value, -3);
}

TEST(uncertain, what_cancels_leaves_no_uncertainty) {
  EXPECT_NEAR(((x + z) - z).standard_uncertainty(), 0.1, 1e-15);
  EXPECT_NEAR((x / x).standard_uncertainty(), 0, 1e-15);
  EXPECT_NEAR((square_root(x) * square_root(x) - x).standard_uncertainty(), 0, 1e-15);
}

TEST(uncertain, covariance_comes_from_shared_inputs_only) {
  EXPECT_EQ(covariance(x, z), 0);
  EXPECT_NEAR(covariance(x + z, x - z), 0.1 * 0.1 - 0.2 * 0.2, 1e-15);
  EXPECT_NEAR(covariance(2.0 * x, -3.0 * x), -6 * 0.01, 1e-15);
}

}  // namespace
}  // namespace stilling
