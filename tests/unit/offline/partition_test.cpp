// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT

#include "stilling/offline/partition.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <cstddef>
#include <random>
#include <vector>

namespace stilling {
namespace {

template <class Course> finished_series sampled(std::size_t n, Course course, double sigma) {
  std::mt19937_64 engine{11};
  std::normal_distribution<double> normal;
  std::vector<double> t, y;
  for (std::size_t i = 0; i < n; ++i) {
    t.push_back(static_cast<double>(i));
    y.push_back(course(t.back()) + sigma * normal(engine));
  }
  return {t, y, 0, 60};
}

TEST(partition, puts_cuts_where_the_line_breaks) {
  const auto s = sampled(900, [](double t) { return t < 333 ? 10.0 : t < 607 ? 15.0 : 5.0; }, 0.5);
  const partition p{s, 60};
  ASSERT_EQ(p.bounds(), (row_bounds{0, 333, 607, 900}));
}

TEST(partition, leaves_a_line_in_one_piece) {
  const auto s = sampled(900, [](double t) { return 10 + 0.3 * t; }, 0.5);
  EXPECT_EQ(partition(s, 60).bounds(), (row_bounds{0, 900}));
}

// A level is cheaper than a line, so less of a change is a change (0.5 deviations, 900 rows).
TEST(partition, tells_levels_that_a_line_would_nearly_fit) {
  const auto s = sampled(900, [](double t) { return t < 420 ? 10.0 : 10.5; }, 1);
  const partition p{s, 60};
  ASSERT_EQ(p.bounds().size(), 3U);
  EXPECT_TRUE(p.is_level(p.noise().whitened(p.bounds()[0], p.bounds()[1])));
  EXPECT_NEAR(static_cast<double>(p.bounds()[1]), 420, 30);
  const auto ramp = sampled(900, [](double t) { return 0.05 * t; }, 1);
  const partition line{ramp, 60};
  EXPECT_FALSE(line.is_level(line.noise().whitened(0, 900)));
}

// Jackson et al. 2005; Schwarz 1978: (number of parameters) times ln n, in variances.
TEST(partition, a_number_that_is_fitted_has_its_price) {
  const auto s = sampled(900, [](double) { return 0.0; }, 1);
  const partition p{s, 60};
  EXPECT_NEAR(p.price(), std::log(900.0) * p.noise().inflation() * p.noise().variance(), 1e-9);
  EXPECT_NEAR(p.cost({900, 900, 450, 0, 1, 0, 5}), 5 + 2 * p.price(), 1e-9);       // a level
  EXPECT_NEAR(p.cost({900, 900, 450, 0, 1, 30, 905}), 5 + 3 * p.price(), 1e-9);    // a line
}

// No way to cut at the candidates is cheaper than the one found: all of them are tried.
TEST(partition, is_exact) {
  const auto s = sampled(480, [](double t) { return t < 180 ? 0.0 : t < 300 ? t - 180 : 90.0; }, 4);
  const partition p{s, 60};
  const serial_noise& noise = p.noise();
  const auto cost = [&](const row_bounds& bounds) {
    double sum = 0;
    for (std::size_t k = 0; k + 1 < bounds.size(); ++k)
      sum += p.cost(noise.whitened(bounds[k], bounds[k + 1]));
    return sum;
  };
  const double ours = cost(p.bounds());  // cuts moved to the best row: cheaper still
  for (unsigned set = 0; set < 128; ++set) {
    row_bounds bounds{0};
    for (unsigned k = 0; k < 7; ++k)
      if ((set >> k & 1U) == 1) bounds.push_back(60 * (k + 1));
    bounds.push_back(480);
    EXPECT_GE(cost(bounds), ours - 1e-9) << set;
  }
}

TEST(partition, has_nothing_to_say_of_five_rows) {
  const auto s = sampled(5, [](double) { return 1.0; }, 0);
  EXPECT_TRUE(partition(s, 60).bounds().empty());
}

}  // namespace
}  // namespace stilling
