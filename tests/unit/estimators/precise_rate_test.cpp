// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT

#include "stilling/estimators/precise_rate.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <array>
#include <cmath>

#include "stilling/estimators/trend.hpp"
#include "support/flue.hpp"

namespace stilling {
namespace {

using invented::at;

using line = trend<256, 4>;
constexpr std::array<double, 4> spans{60, 90, 120, 180};
constexpr rate_demands demands{.limit = 0.05,
                               .precision = 0.5,
                               .confidence = 0.95,
                               .least_cover = 0.9,
                               .least_count = 6,
                               .step = 0,
                               .resolution_weight = 0.25};

/// A value a second over four minutes: `x` of the second.
template <class F> line heard(F x) {
  line l{spans, 0.25};
  for (int t = 0; t < 240; ++t) l.update(at(t), x(t));
  return l;
}
double to_and_fro(int t, double size) { return t % 2 == 0 ? size : -size; }

TEST(precise_rate, has_nothing_to_say_before_a_window_is_covered) {
  line l{spans, 0.25};
  for (int t = 0; t < 50; ++t) l.update(at(t), 500);
  EXPECT_FALSE(precise_rate(l, {}, demands).best);
}

TEST(precise_rate, takes_the_shortest_window_that_is_precise_enough) {
  const auto quiet = precise_rate(heard([](int t) { return 500 + 0.01 * t; }), {}, demands);
  ASSERT_TRUE(quiet.best);
  EXPECT_NEAR(quiet.best->span, 60, 2);
  EXPECT_NEAR(quiet.best->rate, 0.01, 1e-9);
  // White noise of 4 units: the half-width of 60 s is 1.67 * 4 sqrt(12/60^3) = 0.05.
  const auto noisy = precise_rate(heard([](int t) { return 500 + to_and_fro(t, 4); }), {}, demands);
  ASSERT_TRUE(noisy.best);
  EXPECT_GT(noisy.best->span, 80);
  EXPECT_LE(noisy.best->bound - std::abs(noisy.best->rate), 0.5 * demands.limit);
}

TEST(precise_rate, takes_the_most_precise_where_none_is_precise_enough) {
  const auto wild = precise_rate(heard([](int t) { return to_and_fro(t, 60); }), {}, demands);
  ASSERT_TRUE(wild.best);
  EXPECT_NEAR(wild.best->span, 180, 2);
  EXPECT_GT(wild.best->bound, demands.limit);
}

TEST(precise_rate, is_no_surer_than_slow_noise_lets_it) {
  const auto l = heard([](int t) { return 500 + to_and_fro(t, 0.1); });
  const auto alone = precise_rate(l, {}, demands);
  const auto known = precise_rate(l, {.density = 100, .freedom = 30, .limit = 120}, demands);
  ASSERT_TRUE(alone.best && known.best);
  EXPECT_GT(known.best->uncertainty, 10 * alone.best->uncertainty);
  EXPECT_EQ(known.best->density, 120) << "where the density is heading";
}

TEST(precise_rate, says_where_a_shorter_window_shows_more) {
  // Rising for the newest minute only, in noise that hides it from no one.
  const auto turned =
      precise_rate(heard([](int t) { return (t > 180 ? 0.2 * (t - 180) : 0) + to_and_fro(t, 3); }),
                   {}, demands);
  EXPECT_TRUE(turned.contradicted);
  const auto level = precise_rate(heard([](int t) { return to_and_fro(t, 3); }), {}, demands);
  EXPECT_FALSE(level.contradicted);
}

TEST(precise_rate, says_where_a_longer_window_shows_more_and_no_bend_is_shown) {
  auto gas = demands;
  gas.straight = true;
  // 1.4 limits all along, and by chance 0.9 in the last minute; uncertain by half a limit there.
  const auto course = [](double before, double last) {
    return heard([=](int t) {
      return 500 + before * std::min(t, 179) + last * std::max(0, t - 179) + to_and_fro(t, 1.9);
    });
  };
  const auto lucky = precise_rate(course(0.07, 0.045), {}, gas);
  ASSERT_TRUE(lucky.best);
  EXPECT_LT(lucky.best->rate, demands.limit) << "the newest minute still speaks";
  EXPECT_TRUE(lucky.contradicted);
  EXPECT_FALSE(precise_rate(course(0.07, 0.045), {}, demands).contradicted) << "an approach bends";
  EXPECT_FALSE(precise_rate(course(0.30, 0.045), {}, gas).contradicted) << "a bend that shows";
  EXPECT_FALSE(precise_rate(course(0.04, 0.04), {}, gas).contradicted);
}

TEST(precise_rate, counts_a_display_that_does_not_dither_against_itself) {
  auto coarse = demands;
  coarse.step = 1;
  const auto l = heard([](int) { return 500; });
  const auto plain = precise_rate(l, {}, demands), stepped = precise_rate(l, {}, coarse);
  ASSERT_TRUE(plain.best && stepped.best);
  EXPECT_EQ(plain.best->bound, 0);
  // 1.5 step / span at most, a quarter of it taken; and a scatter of step / sqrt(12).
  EXPECT_GT(stepped.best->bound, 0.25 * 1.5 / stepped.best->span);
}

}  // namespace
}  // namespace stilling
