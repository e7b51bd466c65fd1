// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#include "simulate/chance.hpp"

#include <gtest/gtest.h>

#include <cmath>

namespace stilling::invented {
namespace {

TEST(elementary, agrees_with_the_c_library) {
  for (auto x = -30.0; x < 30.0; x += 0.37) {
    EXPECT_NEAR(exponential(x) / std::exp(x), 1.0, 1e-14) << x;
    EXPECT_NEAR(sine_of_turns(x), std::sin(2.0 * 3.14159265358979323846 * x), 1e-13) << x;
  }
  for (auto x = 1e-6; x < 1e6; x *= 1.7) EXPECT_NEAR(logarithm(x), std::log(x), 1e-14) << x;
  EXPECT_EQ(exponential(-1e9), 0.0);
}

TEST(chance, draws_a_standard_normal) {
  auto dice = chance{1, "test"};
  auto sum = 0.0, square = 0.0, beyond_two = 0.0;
  constexpr auto n = 100000;
  for (auto i = 0; i < n; ++i) {
    const auto x = dice.normal();
    sum += x;
    square += x * x;
    beyond_two += std::abs(x) > 2.0;
  }
  EXPECT_NEAR(sum / n, 0.0, 0.013);  // four standard errors
  EXPECT_NEAR(square / n, 1.0, 0.018);
  EXPECT_NEAR(beyond_two / n, 0.0455, 0.0027);  // 2 (1 - Phi(2))
}

TEST(chance, streams_of_one_seed_differ) {
  EXPECT_NE(chance(1, "noise").uniform(0.0, 1.0), chance(1, "script").uniform(0.0, 1.0));
  EXPECT_NE(chance(1, "noise").uniform(0.0, 1.0), chance(2, "noise").uniform(0.0, 1.0));
  EXPECT_EQ(chance(1, "noise").uniform(0.0, 1.0), chance(1, "noise").uniform(0.0, 1.0));
}

}  // namespace
}  // namespace stilling::invented
