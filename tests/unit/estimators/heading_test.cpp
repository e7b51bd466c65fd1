// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT

#include "stilling/estimators/heading.hpp"

#include <gtest/gtest.h>

#include <type_traits>

#include "support/flue.hpp"

namespace stilling {
namespace {

using invented::at;

static_assert(std::is_trivially_copyable_v<heading>);
static_assert(!heading{}.has_left(1, duration{0}) && !heading{}.onset());

/// At 500, moving by `rate`, looked at every second for a minute.
heading at_rest(double rate = 0, double scatter = 0.1, double inflation = 1) {
  heading h;
  for (int t = 0; t <= 60; ++t)
    h.expect(at(t), {.level = 500 + rate * t, .rate = rate, .uncertainty = 0, .span = 60,
                     .scatter = scatter, .inflation = inflation});
  return h;
}
/// Whether it has left after three rows at `x(t)`, one a second from 61 s.
template <class F> bool leaves(heading h, F x, double least = 2, double step = 0) {
  for (int t = 61; t < 64; ++t) h.watch(at(t), x(t), least, 3, step);
  return h.has_left(3, seconds(2));
}

TEST(heading, expects_nothing_before_it_was_told) {
  heading h;
  for (int t = 0; t < 10; ++t) h.watch(at(t), 1e6 * t, 1, 3, 0);
  EXPECT_FALSE(h.has_left(1, duration{0}));
}

TEST(heading, knows_a_departure_from_its_level) {
  EXPECT_TRUE(leaves(at_rest(), [](double) { return 503; }));
  EXPECT_TRUE(leaves(at_rest(), [](double) { return 497; }));
  EXPECT_FALSE(leaves(at_rest(), [](double) { return 501; })) << "within what is allowed";
}

TEST(heading, expects_a_drift_to_go_on) {
  EXPECT_FALSE(leaves(at_rest(0.1), [](double t) { return 500 + 0.1 * t; }));
  EXPECT_TRUE(leaves(at_rest(0.1), [](double) { return 500; })) << "it has turned back";
}

TEST(heading, does_not_carry_a_doubtful_rate_forward) {
  heading h;
  for (int t = 0; t <= 60; ++t)
    h.expect(at(t), {.level = 503, .rate = 0.1, .uncertainty = 0.1, .span = 60, .scatter = 0.1});
  EXPECT_FALSE(leaves(h, [](double) { return 500; })) << "its firm middle";
}

TEST(heading, asks_more_where_values_scatter_lean_or_come_in_steps) {
  const auto off = [](double) { return 503; };
  // Three standard deviations of a mean of three: 1.73 of a value's.
  EXPECT_TRUE(leaves(at_rest(0, 1.5), off));
  EXPECT_FALSE(leaves(at_rest(0, 1.9), off));
  EXPECT_FALSE(leaves(at_rest(0, 1.5, 5), off)) << "slow noise";
  EXPECT_FALSE(leaves(at_rest(), off, 2, 3)) << "one step of a coarse display";
}

TEST(heading, waits_for_what_is_only_on_its_way) {
  heading h = at_rest();
  for (int t = 61; t < 70; ++t) h.watch(at(t), 501, 2, 3, 0);
  EXPECT_FALSE(h.has_left(1, duration{0}));
  h.watch(at(70), 503, 2, 3, 0);
  EXPECT_TRUE(h.has_left(2, seconds(3))) << "it began on its way";
}

TEST(heading, is_not_led_astray_by_the_departure_itself) {
  heading h = at_rest();
  for (int t = 61; t < 75; ++t) {  // the trend begins to follow
    h.watch(at(t), 503, 2, 3, 0);
    h.expect(at(t), {.level = 502.5, .rate = 0, .uncertainty = 0, .span = 60, .scatter = 0.1});
  }
  EXPECT_TRUE(h.has_left(3, seconds(3)));
  EXPECT_EQ(h.onset(), at(61));
}

TEST(heading, lays_down_an_expectation_every_few_seconds_only) {
  heading h;
  int laid = 0;
  for (int t = 0; t < 600; ++t) laid += h.expect(at(t / 10.0), {.level = 500}) ? 1 : 0;
  EXPECT_LE(laid, 30);
  EXPECT_GE(laid, 6);
}

TEST(heading, forgets_when_told) {
  heading h = at_rest();
  h.clear();
  EXPECT_FALSE(leaves(h, [](double) { return 900; }));
}

}  // namespace
}  // namespace stilling
