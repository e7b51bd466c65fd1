// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT

#include "stilling/estimators/exponential_posterior.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <vector>

#include "support/flue.hpp"

namespace stilling {
namespace {

/// level + size e^(-t/tau) every five seconds, and some noise.
std::vector<condensed_rows> approach(double level, double size, double tau, std::size_t n,
                                     double sigma, double rho = 0, std::uint64_t seed = 1) {
  invented::slow_noise draw{seed, rho};
  std::vector<condensed_rows> rows(n);
  for (std::size_t i = 0; i < n; ++i) {
    const double t = 5 * static_cast<double>(i);
    rows[i] = {t, level + size * std::exp(-t / tau) + sigma * draw(), 0};
  }
  return rows;
}

bell of_level(const exponential_posterior& x, const exponential_posterior::fit& f) {
  return {f.level, square_root(f.level_variance * x.variance(f.squares))};
}

TEST(exponential_posterior, finds_an_exponential_without_noise) {
  const auto rows = approach(300, -280, 90, 60, 0);
  const exponential_posterior x{leaning_rows{rows}, 0};
  EXPECT_TRUE(x.bounded());
  EXPECT_NEAR(x.best().tau, 90, 0.5);
  EXPECT_NEAR(x.best().level, 300, 0.5);
  EXPECT_NEAR(x.best().size, -280, 0.5);
}

TEST(exponential_posterior, knows_no_time_constant_of_a_straight_line) {
  auto rows = approach(0, 0, 1, 60, 0.5);
  for (auto& r : rows) r.y += 0.3 * r.t;
  EXPECT_FALSE((exponential_posterior{leaning_rows{rows}, 0}.bounded()));
}

TEST(exponential_posterior, is_wider_where_the_noise_is_slow) {
  const auto width = [](double rho) {
    double sum = 0;
    for (std::uint64_t seed = 1; seed <= 20; ++seed) {
      const auto rows = approach(300, -280, 90, 60, 1, rho, seed);
      const exponential_posterior x{leaning_rows{rows}, 0};
      const auto level = x.answer([&](const auto& f) { return of_level(x, f); });
      sum += level.quantile(0.95) - level.quantile(0.05);
    }
    return sum / 20;
  };
  EXPECT_GT(width(0.8), 1.5 * width(0));
}

/// Binomial: 200 runs at 0.9 give 0.84 to 0.96 at three standard deviations.
TEST(exponential_posterior, holds_the_level_nine_times_in_ten) {
  for (const double rho : {0.0, 0.6}) {
    int held = 0;
    for (std::uint64_t seed = 1; seed <= 200; ++seed) {
      const auto rows = approach(300, -280, 90, 45, 1, rho, seed);
      const exponential_posterior x{leaning_rows{rows}, 0};
      const auto level = x.answer([&](const auto& f) { return of_level(x, f); });
      held += level.quantile(0.05) <= 300 && 300 <= level.quantile(0.95);
    }
    EXPECT_GE(held, 168) << rho;
    EXPECT_LE(held, 192) << rho;
  }
}

TEST(exponential_posterior, tells_slow_noise_from_fast) {
  const auto fast = approach(300, -280, 90, 120, 1), slow = approach(300, -280, 90, 120, 1, 0.8);
  EXPECT_LE((exponential_posterior{leaning_rows{fast}, 0}.best_noise()), 1U);
  EXPECT_GE((exponential_posterior{leaning_rows{slow}, 0}.best_noise()), 3U);
}

}  // namespace
}  // namespace stilling
