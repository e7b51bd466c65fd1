// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT

#include "stilling/estimators/mixture.hpp"

#include <gtest/gtest.h>

#include <cmath>

namespace stilling {
namespace {

static_assert(normal_share_below(0) > 0.49999 && normal_share_below(0) < 0.50001);

TEST(normal_share_below, is_that_of_the_error_function) {
  for (double z = -6; z <= 6; z += 0.01)
    EXPECT_NEAR(normal_share_below(z), std::erfc(-z / std::sqrt(2)) / 2, 8e-8) << z;
}

TEST(mixture, of_one_bell_has_its_quantiles) {
  mixture<4> m;
  m.add({10, 2, 3});
  // Normal quantiles 0 and 1.6449 (JCGM 100:2008, table G.2, infinite degrees of freedom).
  EXPECT_NEAR(m.quantile(0.5), 10, 1e-6);
  EXPECT_NEAR(m.quantile(0.95), 10 + 2 * 1.64485, 1e-4);
  EXPECT_NEAR(m.quantile(0.05), 10 - 2 * 1.64485, 1e-4);
}

TEST(mixture, weighs_its_bells) {
  mixture<4> m;
  m.add({0, 1, 1});
  m.add({100, 1, 3});
  // A quarter of the mass lies at 0, so the 0.125 quantile is its middle.
  EXPECT_NEAR(m.quantile(0.125), 0, 1e-5);
  EXPECT_NEAR(m.quantile(0.625), 100, 1e-5);
  EXPECT_EQ(m.size(), 2U);
}

TEST(mixture, takes_points) {
  mixture<4> m;
  m.add({5, 0, 1});
  EXPECT_EQ(m.quantile(0.3), 5);
  m.add({7, 0, 1});
  EXPECT_NEAR(m.quantile(0.25), 5, 1e-9);
  EXPECT_NEAR(m.quantile(0.75), 7, 1e-9);
}

}  // namespace
}  // namespace stilling
