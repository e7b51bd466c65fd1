// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT

#include "stilling/offline/creep.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <cstddef>
#include <random>
#include <vector>

namespace stilling {
namespace {

template <class Course> finished_series sampled(Course course, double sigma) {
  std::mt19937_64 engine{5};
  std::normal_distribution<double> normal;
  std::vector<double> t, y;
  for (int i = 0; i < 800; ++i) {
    t.push_back(i);
    y.push_back(course(t.back()) + sigma * normal(engine));
  }
  return {t, y, 0, 60};
}

double least(const finished_series& s) { return creep_squares(s, serial_noise{s}, 0, s.size()); }

TEST(creep, leaves_nothing_of_one_whose_time_is_on_the_grid) {
  const double tau = 799.0 / 8;
  const auto s = sampled([&](double t) { return 400 - 30 * std::exp(-t / tau); }, 0);
  EXPECT_NEAR(least(s), 0, 1e-6);
}

TEST(creep, leaves_the_noise_and_little_more_of_one_between) {
  const auto s = sampled([](double t) { return 400 - 5 * std::exp(-t / 140); }, 1);
  EXPECT_NEAR(least(s), 800, 3 * std::sqrt(2 * 800.0));  // chi-square, 797 degrees of freedom
}

TEST(creep, does_not_run_through_a_step) {
  const auto step = [](double t) { return t < 400 ? 300.0 : 302.0; };
  EXPECT_GT(least(sampled(step, 1)), 800 + 100);  // about 800/16 for each squared degree
}

}  // namespace
}  // namespace stilling
