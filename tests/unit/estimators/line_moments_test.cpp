// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT

#include "stilling/estimators/line_moments.hpp"

#include <gtest/gtest.h>

#include <array>
#include <cmath>

namespace stilling {
namespace {

static_assert(step_products{{0, 1}, {2, 4}}.ty == 6);

/// Sums of those from number `from` on: of all, without those of the ones before.
template <std::size_t N>
line_moments moments_of(const std::array<timed_value, N>& all, std::size_t from = 0) {
  line_moments m, left;
  m.begin(all[0]);
  left.clear(all[0]);
  for (std::size_t i = 1; i < N; ++i) m.add(all[i], {all[i - 1], all[i]});
  for (std::size_t i = 0; i < from; ++i) left.add(all[i], {all[i], all[i + 1]});
  return m.without(left);
}

// Worked by hand: t 0, 1, 2, 4 and y 1, 3, 2, 6. Means 7/4 and 3; sums of squares and products
// about them: tt 35/4, ty 10, so the slope is 8/7 and what is left over 14 - 80/7 = 18/7.
constexpr std::array<timed_value, 4> four{{{0, 1}, {1, 3}, {2, 2}, {4, 6}}};

TEST(line_moments, fit_the_line_of_least_squares) {
  const auto f = moments_of(four).line(four[0].t, four[3].t);
  ASSERT_TRUE(f);
  EXPECT_NEAR(f->rate, 8.0 / 7, 1e-12);
  EXPECT_NEAR(f->level, 3, 1e-12);
  EXPECT_NEAR(f->variance, 18.0 / 7 / 2, 1e-12);
  EXPECT_NEAR(f->time_moment, 35.0 / 4, 1e-12);
  EXPECT_EQ(f->count, 4);
  EXPECT_EQ(f->span, 4);
  EXPECT_NEAR(f->middle, 4 - 7.0 / 4, 1e-9);
  EXPECT_NEAR(f->at(0), 3 + 8.0 / 7 * 9 / 4, 1e-9);
}

TEST(line_moments, know_how_much_neighbours_lean_on_each_other) {
  const double slope = 8.0 / 7;
  double steps = 0;  // of what the line leaves over, from one value to the next
  for (std::size_t i = 1; i < four.size(); ++i) {
    const double off = four[i].y - four[i - 1].y - slope * (four[i].t - four[i - 1].t);
    steps += off * off;
  }
  const auto f = moments_of(four).line(four[0].t, four[3].t);
  EXPECT_NEAR(f->lag_one, 1 - steps / 3 / (2 * f->variance), 1e-12);
}

TEST(line_moments, tell_the_slope_alone_to_the_same_bits) {
  const auto f = moments_of(four).line(four[0].t, four[3].t);
  const auto s = moments_of(four).slope(four[0].t, four[3].t);
  ASSERT_TRUE(f && s);
  EXPECT_EQ(s->rate, f->rate);
  EXPECT_EQ(s->time_moment, f->time_moment);
  EXPECT_EQ(s->span, f->span);
  EXPECT_EQ(s->count, f->count);
}

TEST(line_moments, forget_what_is_removed) {
  const std::array<timed_value, 5> five{{{-3, 40}, four[0], four[1], four[2], four[3]}};
  const auto all = moments_of(four).line(four[0].t, four[3].t);
  const auto rest = moments_of(five, 1).line(four[0].t, four[3].t);
  ASSERT_TRUE(all && rest);
  EXPECT_NEAR(rest->rate, all->rate, 1e-12);
  EXPECT_NEAR(rest->variance, all->variance, 1e-10);
  EXPECT_NEAR(rest->lag_one, all->lag_one, 1e-10);
}

TEST(line_moments, of_one_instant_are_no_line) {
  const std::array<timed_value, 3> together{{{5, 1}, {5, 2}, {5, 3}}};
  EXPECT_FALSE(moments_of(together).line(together[0].t, together[2].t));
}

}  // namespace
}  // namespace stilling
