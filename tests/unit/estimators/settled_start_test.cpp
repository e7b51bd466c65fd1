// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT

#include "stilling/estimators/settled_start.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <random>
#include <vector>

namespace stilling {
namespace {

struct series {
  std::vector<double> t, y;
};

template <class Course> series sampled(int n, Course course, double sigma, unsigned seed = 5) {
  std::mt19937_64 engine{seed};
  std::normal_distribution<double> noise{0, 1};
  series s;
  for (int i = 0; i < n; ++i) {
    s.t.push_back(i);
    s.y.push_back(course(i) + sigma * noise(engine));
  }
  return s;
}

TEST(settled_start, keeps_all_of_what_never_moves) {
  const auto s = sampled(600, [](double) { return 300.0; }, 0);
  const auto part = settled_start(s.t, s.y, 60);
  ASSERT_TRUE(part);
  EXPECT_EQ(part->first, 0U);
  EXPECT_EQ(part->variance, 0);
  EXPECT_EQ(part->remaining, 0);
}

TEST(settled_start, cuts_a_creep_and_knows_what_remains) {
  const auto s = sampled(900, [](double t) { return 300 - 20 * std::exp(-t / 100); }, 0.5);
  const auto part = settled_start(s.t, s.y, 60);
  ASSERT_TRUE(part);
  EXPECT_GT(part->first, 300U);  // 1 degree still to come
  EXPECT_LT(part->first, 700U);
  double sum = 0;
  for (std::size_t i = part->first; i < s.y.size(); ++i) sum += s.y[i];
  const double mean = sum / static_cast<double>(s.y.size() - part->first);
  EXPECT_NEAR(mean, 300, 0.15);
  EXPECT_GT(part->remaining, 0);
  EXPECT_LT(part->remaining, 0.15);
}

// White noise: the variance of a mean over T seconds, times T, is the variance times the spacing.
TEST(settled_start, measures_the_noise) {
  double sum = 0;
  for (unsigned seed = 0; seed < 40; ++seed) {
    const auto s = sampled(1000, [](double) { return 0.0; }, 2, seed);
    sum += settled_start(s.t, s.y, 60)->density;
  }
  EXPECT_NEAR(sum / 40, 4, 0.6);
}

TEST(settled_start, says_nothing_of_too_little) {
  const auto s = sampled(100, [](double t) { return t; }, 1);
  EXPECT_FALSE(settled_start(s.t, s.y, 60));
  EXPECT_TRUE(settled_start(s.t, s.y, 40));
  EXPECT_FALSE(settled_start({}, {}, 60));
}

}  // namespace
}  // namespace stilling
