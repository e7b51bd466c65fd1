// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT

#include "stilling/estimators/noise.hpp"

#include <gtest/gtest.h>

#include <type_traits>

#include "support/flue.hpp"

namespace stilling {
namespace {

using invented::at;
using invented::noise;
using invented::slow_noise;

static_assert(std::is_trivially_copyable_v<batch_noise>);
static_assert(batch_noise{}.slow().density == 0, "nothing was seen yet");
static_assert(batch_noise{}.slow().freedom == 0);

/// x() every `every` seconds for `lasting` seconds.
template <class F> batch_noise heard(F x, double lasting, double every = 1) {
  batch_noise n;
  for (double t = 0; t < lasting; t += every) n.update(at(t), x());
  return n;
}

TEST(batch_noise, keeps_silent_on_a_handful_of_values) {
  noise draw{1};
  EXPECT_EQ(heard(draw, 15).slow().density, 0);
  EXPECT_EQ(heard(draw, 15).slow().freedom, 0);
}

// Independent values of variance 1, one every T seconds: a mean over t has variance T / t.
TEST(batch_noise, finds_the_variance_of_independent_values) {
  for (const double every : {0.2, 1.0, 2.0, 5.0}) {
    noise draw{7};
    const auto n = heard([&] { return 500 + draw(); }, 3600, every);
    EXPECT_GT(n.slow().density, every * 0.7) << every;
    EXPECT_LT(n.slow().density, every * 1.8) << every << ", the largest of several, so rather more";
    EXPECT_GT(n.slow().freedom, 2);
  }
}

// First-order autocorrelation 0.8 from second to second: a long mean has (1 + rho)/(1 - rho) = 9
// times the variance of one of independent values (Bayley and Hammersley 1946).
TEST(batch_noise, sees_slow_noise_that_neighbours_hide) {
  slow_noise draw{3, 0.8};
  const auto n = heard(draw, 7200);
  EXPECT_GT(n.slow().density, 9 * 0.6);
  EXPECT_LT(n.slow().density, 9 * 1.8);
}

TEST(batch_noise, is_not_fooled_by_a_straight_drift) {
  batch_noise flat, drifting;
  noise draw{5};
  for (int t = 0; t < 1200; ++t) {
    const double x = draw();
    flat.update(at(t), x);
    drifting.update(at(t), x + 0.5 * t);
  }
  EXPECT_NEAR(drifting.slow().density, flat.slow().density, 1e-6 * flat.slow().density);
}

TEST(batch_noise, of_a_level_that_stands_still_is_none) {
  EXPECT_EQ(heard([] { return 293.15; }, 1200).slow().density, 0);
}

TEST(batch_noise, does_not_take_a_new_level_after_an_interruption_for_noise) {
  batch_noise broken, whole, silent;
  noise draw{9};
  for (int t = 0; t < 1200; ++t) {
    const double x = draw();
    if (t == 600) broken.interrupt();
    broken.update(at(t), x + (t < 600 ? 0 : 1000));
    silent.update(at(t + (t < 600 ? 0 : 900)), x + (t < 600 ? 0 : 1000));
    whole.update(at(t), x);
  }
  for (const auto& n : {broken, silent}) {
    EXPECT_LT(n.slow().density, 2 * whole.slow().density);
    EXPECT_GT(n.slow().density, whole.slow().density / 2) << "what was learnt before stays";
  }
}

TEST(batch_noise, forgets_a_restless_start_in_time) {
  batch_noise n;
  noise draw{11};
  for (int t = 0; t < 600; ++t) n.update(at(t), 10 * draw());
  const double restless = n.slow().density;
  for (int t = 600; t < 100'000; ++t) n.update(at(t), draw());
  EXPECT_LT(n.slow().density, restless / 20);
}

TEST(batch_noise, forgets_when_told) {
  noise draw{2};
  auto n = heard(draw, 600);
  ASSERT_GT(n.slow().density, 0);
  n.clear();
  EXPECT_EQ(n.slow().density, 0);
}

}  // namespace
}  // namespace stilling
