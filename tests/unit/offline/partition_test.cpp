// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT

#include "stilling/offline/partition.hpp"

#include <gtest/gtest.h>

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

// No way to cut at the candidates is cheaper than the one found: all of them are tried.
TEST(partition, is_exact) {
  const auto s = sampled(480, [](double t) { return t < 180 ? 0.0 : t < 300 ? t - 180 : 90.0; }, 4);
  const partition p{s, 60};
  const serial_noise& noise = p.noise();
  const double penalty =
      3 * noise.inflation() * noise.variance() * natural_log(static_cast<double>(s.size()));
  const auto cost = [&](const row_bounds& bounds) {
    double sum = 0;
    for (std::size_t k = 0; k + 1 < bounds.size(); ++k)
      sum += noise.whitened(bounds[k], bounds[k + 1]).squares() + penalty;
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
