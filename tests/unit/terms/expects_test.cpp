// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT

// A firmware routes a broken contract to a place of its own before the first include.
namespace {
int broken_contracts = 0;
}
#define STILLING_EXPECTS(condition) ((condition) ? void() : void(++broken_contracts))
#include "stilling/terms/expects.hpp"

#include <gtest/gtest.h>

namespace {

double half_of_positive(double x) {
  STILLING_EXPECTS(x > 0);
  return x / 2;
}

TEST(expects, a_kept_contract_costs_nothing_to_the_caller) {
  broken_contracts = 0;
  EXPECT_EQ(half_of_positive(3), 1.5);
  EXPECT_EQ(broken_contracts, 0);
}

TEST(expects, a_broken_contract_goes_where_the_integrator_said) {
  broken_contracts = 0;
  half_of_positive(-3);
  EXPECT_EQ(broken_contracts, 1);
}

}  // namespace
