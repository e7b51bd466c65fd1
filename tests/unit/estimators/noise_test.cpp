// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT

#include "stilling/estimators/noise.hpp"

#include <gtest/gtest.h>

#include <type_traits>

#include "support/flue.hpp"

namespace stilling {
namespace {

using invented::noise;
using invented::slow_noise;

static_assert(std::is_trivially_copyable_v<batch_noise>);
static_assert(batch_noise{}.density(5) == 0, "nothing was seen yet");

TEST(batch_noise, keeps_silent_on_a_handful_of_batches) {
  batch_noise n;
  for (double mean : {1.0, 9.0, 2.0}) n.push(mean);
  EXPECT_EQ(n.density(5), 0);
}

// Independent batches of variance 1 and length T: the mean over any longer time has variance T / time.
TEST(batch_noise, finds_the_variance_of_independent_batches) {
  noise draw{7};
  batch_noise n;
  for (int i = 0; i < 400; ++i) n.push(500 + draw());
  EXPECT_GT(n.density(5), 5 * 0.8);
  EXPECT_LT(n.density(5), 5 * 1.8) << "the largest of several estimates is on the safe side";
  EXPECT_DOUBLE_EQ(n.density(10), 2 * n.density(5)) << "the same variance, batches twice as long";
}

// First-order autocorrelation 0.8: a long mean has 9 times the variance of one of independent values
// (Bayley and Hammersley 1946), yet neighbours alone, by their second differences, show
// 1 - 4/3 rho + 1/3 rho^2 = 0.15 of it.
TEST(batch_noise, sees_slow_noise_that_neighbours_hide) {
  slow_noise draw{3, 0.8};
  batch_noise n;
  for (int i = 0; i < 4000; ++i) n.push(draw());
  EXPECT_GT(n.density(1), 10 * 0.15);
  EXPECT_LT(n.density(1), 9 * 1.5);
}

TEST(batch_noise, is_not_fooled_by_a_straight_drift) {
  batch_noise flat, drifting;
  noise a{5}, b{5};
  for (int i = 0; i < 300; ++i) {
    flat.push(a());
    drifting.push(b() + 25.0 * i);
  }
  EXPECT_NEAR(drifting.density(5), flat.density(5), 1e-6 * flat.density(5));
}

TEST(batch_noise, of_a_level_that_stands_still_is_none) {
  batch_noise n;
  for (int i = 0; i < 100; ++i) n.push(293.15);
  EXPECT_EQ(n.density(5), 0);
}

TEST(batch_noise, does_not_take_a_new_level_after_an_interruption_for_noise) {
  batch_noise n, whole;
  noise a{9}, b{9};
  for (int i = 0; i < 100; ++i) {
    if (i == 50) n.interrupt();
    n.push(a() + (i < 50 ? 0 : 1000));
    whole.push(b());
  }
  EXPECT_LT(n.density(5), 2 * whole.density(5));
  EXPECT_GT(n.density(5), whole.density(5) / 2) << "what was learnt before stays";
}

TEST(batch_noise, forgets_a_restless_start_in_time) {
  noise draw{11};
  batch_noise n;
  for (int i = 0; i < 100; ++i) n.push(10 * draw());
  const double restless = n.density(5);
  for (int i = 0; i < 20'000; ++i) n.push(draw());
  EXPECT_LT(n.density(5), restless / 20);
}

}  // namespace
}  // namespace stilling
