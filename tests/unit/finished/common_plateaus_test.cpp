// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT

#include "stilling/finished/common_plateaus.hpp"

#include <gtest/gtest.h>

#include <cmath>

#include "support/flue.hpp"

namespace stilling {
namespace {

using invented::flue;

/// Rows with no live judgement at all: what the segments alone find.
struct rows_of_a_test {
  void hold(double from, double to, const flue& f, bool burning = true, cause why = cause::none) {
    for (double t = from; t < to; t += 1) {
      flue now = f;
      now.stack += 0.2 * draw(), now.oxygen += 0.0002 * draw(), now.monoxide += 5e-7 * draw();
      verdict v;
      v.row = invented::row(t, now);
      v.fire.burning = burning;
      v.why = why;
      rows.keep(v);
    }
  }
  [[nodiscard]] std::vector<common_plateau> found() const {
    return common_plateaus(rows, session_settings{}.steadiness, session_settings{}.phase);
  }

  invented::noise draw{1};
  kept_rows rows;
};

TEST(common_plateaus, are_where_all_channels_stand_still) {
  rows_of_a_test x;
  x.hold(0, 300, {});
  x.hold(300, 600, {.stack = 540, .oxygen = 0.07});
  const auto found = x.found();
  ASSERT_EQ(found.size(), 2U);
  EXPECT_LE(found[0].first, 5U);
  EXPECT_NEAR(static_cast<double>(found[0].declared), 60, 5);
  EXPECT_NEAR(static_cast<double>(found[0].last), 299, 3);
  EXPECT_NEAR(static_cast<double>(found[1].first), 300, 3);
  EXPECT_NEAR(static_cast<double>(found[1].declared), 360, 5);
  EXPECT_EQ(found[1].last, 599U);
}

TEST(common_plateaus, need_a_fire_and_a_whole_sample) {
  rows_of_a_test cold, leaking;
  cold.hold(0, 600, {}, false);
  EXPECT_TRUE(cold.found().empty());
  leaking.hold(0, 300, {});
  leaking.hold(300, 600, {.stack = 440, .oxygen = 0.12}, true, cause::diluted);
  ASSERT_EQ(leaking.found().size(), 1U);
  EXPECT_LT(leaking.found()[0].last, 300U);
}

TEST(common_plateaus, are_none_while_one_channel_moves) {
  rows_of_a_test x;
  for (int t = 0; t < 600; t += 10)
    x.hold(t, t + 10, {.stack = 420 + 0.1 * t});  // 6 K/min, the limit is 1.7
  EXPECT_TRUE(x.found().empty());
}

TEST(common_plateaus, of_less_than_two_minutes_must_have_been_proven_live) {
  rows_of_a_test x;
  x.hold(0, 100, {});
  x.hold(100, 101, {.stack = 400}, false);
  EXPECT_TRUE(x.found().empty());
  rows_of_a_test longer;
  longer.hold(0, 130, {});
  EXPECT_EQ(longer.found().size(), 1U);
}

TEST(common_plateaus, are_no_straight_line_through_unrest) {
  rows_of_a_test x;
  for (int t = 0; t < 1200; t += 10)  // 4 K up and down in five minutes, none in the mean
    x.hold(t, t + 10, {.stack = 520 + 2 * std::sin(t / 300.0 * 6.2832)});
  for (const auto& p : x.found()) EXPECT_LT(p.last - p.first, 300U);
}

TEST(unrest, is_what_a_minute_differs_from_the_next) {
  channel_series steps, still;
  for (int t = 0; t < 600; ++t) {
    steps.t.push_back(t), steps.y.push_back(t / 60 % 2 == 0 ? 0 : 3);
    still.t.push_back(t), still.y.push_back(t % 2);
  }
  EXPECT_NEAR(detail::unrest(steps, {0, 599}), 3, 1e-9);
  EXPECT_NEAR(detail::unrest(still, {0, 599}), 0, 1e-9);
  EXPECT_EQ(detail::unrest(steps, {0, 130}), 0) << "too short to say";
}

TEST(common_plateaus, end_with_a_silence) {
  rows_of_a_test x;
  x.hold(0, 300, {});
  x.hold(500, 800, {});
  ASSERT_EQ(x.found().size(), 2U);
  EXPECT_EQ(x.found()[0].last, 299U);
  EXPECT_EQ(x.found()[1].first, 300U);
}

TEST(common_plateaus, are_none_without_rows) { EXPECT_TRUE(rows_of_a_test{}.found().empty()); }

}  // namespace
}  // namespace stilling
