// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT

#include "stilling/estimators/line_moments.hpp"

#include <gtest/gtest.h>

#include <array>
#include <cmath>

namespace stilling {
namespace {

static_assert(step_products{{instant{}, 1}, {instant{seconds(2)}, 4}}.ty == 6);

constexpr timed_value after(double t, double y) {
  return {instant{} + *duration_from_seconds(t), y};
}

/// Sums of those from number `from` on, each added in turn and the ones before removed again.
template <std::size_t N>
line_moments moments_of(const std::array<timed_value, N>& all, std::size_t from = 0) {
  line_moments m;
  for (std::size_t i = 0; i < N; ++i)
    m.add(all[i], i > 0 ? step_products{all[i - 1], all[i]} : step_products{});
  for (std::size_t i = 0; i < from; ++i) m.remove(all[i], {all[i], all[i + 1]});
  return m;
}

// Worked by hand: t 0, 1, 2, 4 and y 1, 3, 2, 6. Means 7/4 and 3; sums of squares and products
// about them: tt 35/4, ty 10, so the slope is 8/7 and what is left over 14 - 80/7 = 18/7.
constexpr std::array four{after(0, 1), after(1, 3), after(2, 2), after(4, 6)};

TEST(line_moments, fit_the_line_of_least_squares) {
  const auto f = moments_of(four).line(four[0].at, four[3].at);
  ASSERT_TRUE(f);
  EXPECT_NEAR(f->rate, 8.0 / 7, 1e-12);
  EXPECT_NEAR(f->level, 3, 1e-12);
  EXPECT_NEAR(f->variance, 18.0 / 7 / 2, 1e-12);
  EXPECT_NEAR(f->time_moment, 35.0 / 4, 1e-12);
  EXPECT_EQ(f->count, 4);
  EXPECT_EQ(f->span, 4);
  EXPECT_NEAR(in_seconds(f->middle), 4 - 7.0 / 4, 1e-9);
  EXPECT_NEAR(f->at(0), 3 + 8.0 / 7 * 9 / 4, 1e-9);
}

TEST(line_moments, know_how_much_neighbours_lean_on_each_other) {
  const double slope = 8.0 / 7;
  double steps = 0;  // of what the line leaves over, from one value to the next
  for (std::size_t i = 1; i < four.size(); ++i) {
    const double off = four[i].y - four[i - 1].y - slope * in_seconds(four[i].at - four[i - 1].at);
    steps += off * off;
  }
  const auto f = moments_of(four).line(four[0].at, four[3].at);
  EXPECT_NEAR(f->lag_one, 1 - steps / 3 / (2 * f->variance), 1e-12);
}

TEST(line_moments, forget_what_is_removed) {
  const std::array five{after(-3, 40), four[0], four[1], four[2], four[3]};
  const auto all = moments_of(four).line(four[0].at, four[3].at);
  const auto rest = moments_of(five, 1).line(four[0].at, four[3].at);
  ASSERT_TRUE(all && rest);
  EXPECT_NEAR(rest->rate, all->rate, 1e-12);
  EXPECT_NEAR(rest->variance, all->variance, 1e-10);
  EXPECT_NEAR(rest->lag_one, all->lag_one, 1e-10);
}

TEST(line_moments, of_one_instant_are_no_line) {
  const std::array together{after(5, 1), after(5, 2), after(5, 3)};
  EXPECT_FALSE(moments_of(together).line(together[0].at, together[2].at));
}

}  // namespace
}  // namespace stilling
