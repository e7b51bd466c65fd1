// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#include "stilling/visit/trace.hpp"

#include <gtest/gtest.h>

namespace stilling {
namespace {

frame row(int t, double stack) {
  frame f;
  f.at = instant{seconds(t)};
  f.indication.set(channel::stack_temp, stack);
  return f;
}

TEST(trace, a_short_test_keeps_every_row) {
  trace x;
  for (int i = 0; i < 1000; ++i) x.push(row(i, 500 + i));
  ASSERT_EQ(x.spans().size(), 1000U);
  EXPECT_EQ(x.length(), duration{0});
  EXPECT_EQ(x.spans()[7].of[channel::stack_temp].mean(), 507);
}

TEST(trace, memory_is_bounded_and_nothing_that_stood_out_is_lost) {
  trace x;
  double sum = 0;
  for (int i = 0; i < 100'000; ++i) {
    const double stack = i == 54'321 ? 900 : i == 12'345 ? 300 : 500;
    sum += stack;
    x.push(row(i, stack));
    ASSERT_LE(x.spans().size(), trace::most);
  }
  EXPECT_GT(x.spans().size(), trace::most / 4);
  extent all;
  for (const auto& s : x.spans()) all.take(s.of[channel::stack_temp]);
  EXPECT_EQ(all.count, 100'000U);
  EXPECT_EQ(all.highest, 900);
  EXPECT_EQ(all.lowest, 300);
  EXPECT_NEAR(all.sum, sum, 1e-3);
}

TEST(trace, spans_are_of_equal_length_and_in_order) {
  trace x;
  for (int i = 0; i < 5000; ++i) x.push(row(i, 500));
  const auto& spans = x.spans();
  for (std::size_t i = 0; i < spans.size(); ++i) {
    EXPECT_LE(spans[i].from, spans[i].to);
    EXPECT_LT(spans[i].to - spans[i].from, x.length());
    if (i > 0) {
      EXPECT_LT(spans[i - 1].to, spans[i].from);
    }
  }
}

TEST(trace, what_is_suspect_is_left_out) {
  trace x;
  frame f = row(0, 500);
  f.add_mark(channel::stack_temp, quality::outlier);
  x.push(f);
  ASSERT_EQ(x.spans().size(), 1U);
  EXPECT_FALSE(x.spans()[0].of.has(channel::stack_temp));
  EXPECT_FALSE(x.spans()[0].of.has(channel::o2));
}

TEST(trace, a_clock_that_goes_back_begins_a_new_span) {
  trace x;
  for (int i = 0; i < 3000; ++i) x.push(row(i, 500));
  const auto before = x.spans().size();
  x.push(row(5, 400));
  EXPECT_EQ(x.spans().size(), before + 1);
  for (int i = 0; i < 5000; ++i) {
    x.push(row(6 + i, 400));
    ASSERT_LE(x.spans().size(), trace::most);
  }
}

}  // namespace
}  // namespace stilling
