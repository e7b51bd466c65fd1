// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT

#include "stilling/stages/unrest.hpp"

#include <gtest/gtest.h>

#include <type_traits>
#include <vector>

#include "support/flue.hpp"

namespace stilling {
namespace {

using invented::at;
using invented::when;

static_assert(std::is_trivially_copyable_v<unrest>);

settled_reading reading(double declared) {
  settled_reading r;
  r.declared = at(declared);
  for (const channel c : {channel::stack_temp, channel::o2, channel::co}) {
    channel_reading one;
    one.rate_bound = 0;
    r.channels.set(c, one);
  }
  return r;
}

settled_reading closed(settled_reading r, double to) {
  r.to = at(to);
  r.released = at(to + 7);
  return r;
}

settled_reading creeping(settled_reading r) {
  r.creeping = true;
  r.channels.slots[index_of(channel::stack_temp)].rate = -2 / 1.8 / 60;  // 2 degF/min of 3
  r.channels.slots[index_of(channel::co)].rate = 1e-6 / 60;              // 1 ppm/min of 5
  return r;
}

settled_reading swinging(settled_reading r) {
  r.hunting.emplace();
  r.hunting->period = 28;
  r.hunting->amplitude.set(channel::stack_temp, 1);
  r.hunting->amplitude.set(channel::o2, 0.004);
  return r;
}

std::vector<observation> told_of(const std::vector<settled_reading>& readings) {
  std::vector<observation> told;
  std::size_t passed = 0;
  unrest stage{plateau_settings{}};
  for (const auto& r : readings)
    stage.push(r, overloaded{[&](const observation& o) { told.push_back(o); },
                             [&](const settled_reading&) { ++passed; }});
  EXPECT_EQ(passed, readings.size());
  return told;
}

TEST(unrest, tells_a_creep_once_a_plateau_with_the_channel_that_moves_most) {
  const auto one = creeping(reading(100)), two = creeping(reading(900));
  const auto told = told_of({one, closed(one, 600), two, closed(two, 1200)});
  ASSERT_EQ(told.size(), 2U);
  EXPECT_EQ(told[0].what, finding_kind::creeping);
  EXPECT_EQ(told[0].of, channel::stack_temp);
  EXPECT_TRUE(told[0].is_rate);
  EXPECT_DOUBLE_EQ(*told[0].value, -2 / 1.8 / 60);
  EXPECT_DOUBLE_EQ(*told[0].limit, 3 / 1.8 / 60);
  EXPECT_EQ(when(told[0].at), 607) << "where nothing before has shown it";
  EXPECT_EQ(when(told[1].at), 1207);
}

verdict creeping_row(double t, double degrees_a_minute) {
  verdict v;
  v.row.at = at(t);
  v.in = phase::steady;
  trend_estimate now;
  now.measured = true;
  now.rate = degrees_a_minute / 1.8 / 60;
  now.rate_bound = now.rate * 1.01;
  v.trends.set(channel::stack_temp, now);
  return v;
}

TEST(unrest, tells_a_creep_while_it_lasts) {
  std::vector<observation> told;
  unrest stage{plateau_settings{}};
  const auto hear = overloaded{[&](const observation& o) { told.push_back(o); },
                               [](const verdict&) {}, [](const settled_reading&) {}};
  stage.push(reading(100), hear);
  for (int t = 100; t < 300; ++t) stage.push(creeping_row(t, 1.2), hear);
  EXPECT_TRUE(told.empty()) << "below half the limit";
  for (int t = 300; t < 340; ++t) stage.push(creeping_row(t, 2), hear);
  stage.push(creeping_row(340, 1.2), hear);
  for (int t = 341; t < 600; ++t) stage.push(creeping_row(t, 2), hear);
  stage.push(closed(creeping(reading(100)), 600), hear);
  ASSERT_EQ(told.size(), 1U) << "once for the plateau";
  EXPECT_EQ(when(told[0].at), 401) << "after a minute on end";
}

// 1.2 degF/min is proven by no row where noise is large, and 6 degF in five minutes are.
TEST(unrest, tells_a_creep_by_how_far_it_has_come) {
  std::vector<observation> told;
  unrest stage{plateau_settings{}};
  const auto hear = overloaded{[&](const observation& o) { told.push_back(o); },
                               [](const verdict&) {}};
  for (int t = 0; t < 900; ++t) {
    auto v = creeping_row(t, 1.2);
    v.trends.slots[index_of(channel::stack_temp)].level = 500 + t * 1.2 / 1.8 / 60;
    stage.push(v, hear);
  }
  ASSERT_EQ(told.size(), 1U);
  EXPECT_NEAR(when(told[0].at), 300 + 60, 1.5);
}

TEST(unrest, tells_a_swing_with_its_period_and_amplitude) {
  const auto r = swinging(reading(100));
  const auto told = told_of({r, closed(r, 600)});
  ASSERT_EQ(told.size(), 1U);
  EXPECT_EQ(told[0].what, finding_kind::hunting);
  EXPECT_EQ(told[0].of, channel::o2) << "0.4 % beside 0.1 %/min is more than 1 K beside 1.7";
  EXPECT_EQ(told[0].value, 0.004);
  EXPECT_EQ(told[0].period, 28);
  EXPECT_EQ(when(told[0].at), 607);
  EXPECT_FALSE(told[0].is_rate);
}

TEST(unrest, is_silent_on_a_clean_log) {
  EXPECT_TRUE(told_of({reading(100), closed(reading(100), 600)}).empty());
}

}  // namespace
}  // namespace stilling
