// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT

#include "stilling/offline/serial_noise.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <cstddef>
#include <random>
#include <vector>

namespace stilling {
namespace {

finished_series noise_of(double sigma, double time, std::size_t n, unsigned seed) {
  std::mt19937_64 engine{seed};
  std::normal_distribution<double> normal;
  std::uniform_real_distribution<double> step{0.6, 1.4};
  std::vector<double> t, y;
  double x = normal(engine), at = 0;
  for (std::size_t i = 0; i < n; ++i) {
    t.push_back(at);
    y.push_back(300 + 0.1 * at + sigma * x);
    const double dt = step(engine), phi = time > 0 ? std::exp(-dt / time) : 0;
    x = phi * x + std::sqrt(1 - phi * phi) * normal(engine);
    at += dt;
  }
  return {t, y, 0, 60};
}

TEST(serial_noise, finds_what_was_put_in) {
  const auto s = noise_of(2, 8, 4000, 1);
  serial_noise n{s};
  n.learn({0, 2000, 4000});
  EXPECT_NEAR(n.variance(), 4, 1);
  EXPECT_NEAR(n.time(), 8, 2.5);
  EXPECT_LT(n.inflation(), 1.4);
}

TEST(serial_noise, white_noise_leans_on_nothing) {
  const auto s = noise_of(1, 0, 4000, 2);
  serial_noise n{s};
  n.learn({0, 2000, 4000});
  EXPECT_NEAR(n.variance(), 1, 0.15);
  EXPECT_LT(n.time(), 0.5);
}

TEST(serial_noise, one_bad_stretch_does_no_harm) {
  const std::size_t n = 1200;
  std::vector<double> t, y;
  std::mt19937_64 engine{3};
  std::normal_distribution<double> normal;
  for (std::size_t i = 0; i < n; ++i)
    t.push_back(static_cast<double>(i)), y.push_back((i < 650 ? 0 : 500) + normal(engine));
  const finished_series s{t, y, 0, 60};
  serial_noise noise{s};
  noise.learn({0, 300, 600, 900, 1200});
  EXPECT_NEAR(noise.variance(), 1, 0.3);
}

}  // namespace
}  // namespace stilling
