// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#include "stilling/combustion/smoke.hpp"

#include <gtest/gtest.h>

#include <array>

namespace stilling {
namespace {

result<int, smoke_fault> of(int a, int b, int c, bool oily = false) {
  const std::array<smoke_test, 3> tests{{{a}, {b, oily}, {c}}};
  return smoke_number(tests);
}

// 1. BImSchV Annex 2 no. 3.2 and 3.3
TEST(smoke, mean_of_three_rounded_to_the_nearest_integer) {
  EXPECT_EQ(of(1, 1, 2).value(), 1);  // 1.333
  EXPECT_EQ(of(1, 2, 2).value(), 2);  // 1.667
  for (int sum = 0; sum <= 27; ++sum) {
    const int a = sum / 3, b = (sum - a) / 2, c = sum - a - b;
    EXPECT_NEAR(of(a, b, c).value(), sum / 3.0, 0.34);
  }
}

TEST(smoke, oil_fails_whatever_the_mean_and_two_are_no_verdict) {
  EXPECT_EQ(of(0, 1, 1, true).error(), smoke_fault::oil_on_paper);
  const std::array<smoke_test, 2> two{{{1}, {1}}};
  EXPECT_EQ(smoke_number(two).error(), smoke_fault::not_three_tests);
  EXPECT_EQ(of(1, 10, 1).error(), smoke_fault::off_the_scale);
  EXPECT_EQ(of(-1, 1, 1).error(), smoke_fault::off_the_scale);
}

}  // namespace
}  // namespace stilling
