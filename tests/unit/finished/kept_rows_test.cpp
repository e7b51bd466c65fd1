// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT

#include "stilling/finished/kept_rows.hpp"

#include <gtest/gtest.h>

#include "support/flue.hpp"

namespace stilling {
namespace {

using invented::at;

verdict seen(double t, double stack, judgement is = judgement::steady) {
  verdict v;
  v.row = invented::row(t, channel::stack_temp, stack);
  v.in = phase::settling;
  trend_estimate now;
  now.is = is;
  now.step = 0.5;
  v.trends.set(channel::stack_temp, now);
  return v;
}

TEST(kept_rows, remember_what_the_live_stages_said) {
  kept_rows rows;
  rows.keep(seen(10, 500));
  ASSERT_EQ(rows.size(), 1U);
  EXPECT_EQ(rows[0].at, at(10));
  EXPECT_TRUE(rows[0].usable.contains(channel::stack_temp));
  EXPECT_TRUE(rows[0].steady.contains(channel::stack_temp));
  EXPECT_EQ(rows[0].in, phase::settling);
  EXPECT_EQ(rows.step(channel::stack_temp), 0.5);
}

TEST(kept_rows, are_not_steady_from_the_onset_of_a_departure_on) {
  kept_rows rows;
  for (int t = 0; t < 10; ++t) rows.keep(seen(t, 500));
  auto v = seen(10, 520, judgement::transient);
  trend_estimate now = v.trends[channel::stack_temp];
  now.departed = at(7);
  v.trends.set(channel::stack_temp, now);
  rows.keep(v);
  for (std::size_t i = 0; i < rows.size(); ++i)
    EXPECT_EQ(rows[i].steady.contains(channel::stack_temp), i < 7) << i;
  ASSERT_EQ(rows.departures(channel::stack_temp).size(), 1U);
  EXPECT_EQ(rows.who_left(at(20), {channel::stack_temp}), channel::stack_temp);
  EXPECT_FALSE(rows.who_left(at(20), {channel::o2}));
  EXPECT_FALSE(rows.who_left(at(60), {channel::stack_temp}));
}

TEST(kept_rows, give_one_channel_without_what_is_not_believed) {
  kept_rows rows;
  for (int t = 0; t < 5; ++t) {
    auto v = seen(t, 500 + t);
    if (t == 3) v.row.add_mark(channel::stack_temp, quality::outlier);
    rows.keep(v);
  }
  const auto own = rows.series(channel::stack_temp, 1, 4);
  EXPECT_EQ(own.t, (std::vector<double>{0, 1, 3}));
  EXPECT_EQ(own.y, (std::vector<double>{501, 502, 504}));
  EXPECT_EQ(own.row, (std::vector<std::size_t>{1, 2, 4}));
  EXPECT_TRUE(rows[3].set_aside.contains(channel::stack_temp));
}

TEST(kept_rows, know_why_what_came_after_was_different) {
  kept_rows rows;
  for (int t = 0; t < 40; ++t) {
    auto v = seen(t, 500);
    if (t > 30) v.in = phase::cooling, v.why = cause::burner_off;
    rows.keep(v);
  }
  EXPECT_EQ(rows.why_after(10, seconds(90)), cause::burner_off);
  EXPECT_EQ(rows.why_after(10, seconds(15)), cause::departed) << "it came too late";
  rows.keep(seen(400, 500));
  EXPECT_EQ(rows.why_after(39, seconds(90)), cause::gap);
}

TEST(kept_rows, swing_where_most_of_them_do) {
  kept_rows rows;
  for (int t = 0; t < 20; ++t) {
    auto v = seen(t, 500);
    trend_estimate now = v.trends[channel::stack_temp];
    if (t >= 10) now.period = 40, now.amplitude = 2;
    v.trends.set(channel::stack_temp, now);
    rows.keep(v);
  }
  EXPECT_FALSE(rows.swing(0, 19));
  ASSERT_TRUE(rows.swing(8, 19));
  EXPECT_EQ(rows.swing(8, 19)->period, 40);
  EXPECT_EQ(rows.swing(8, 19)->amplitude[channel::stack_temp], 2);
}

}  // namespace
}  // namespace stilling
