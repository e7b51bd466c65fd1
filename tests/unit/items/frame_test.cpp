// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT

#include "stilling/items/frame.hpp"

#include <gtest/gtest.h>

#include <type_traits>

namespace stilling {
namespace {

static_assert(std::is_trivially_copyable_v<frame> && std::is_aggregate_v<frame>);
static_assert(has(quality::outlier | quality::stuck, quality::stuck));
static_assert(!has(quality::outlier | quality::stuck, quality::implausible));
static_assert(!has(quality::good, quality::outlier));

frame at_five_percent_oxygen() {
  frame f;
  f.at = instant{seconds(10)};
  f.line = 12;
  f.indication.set(channel::o2, 0.050);
  return f;
}

TEST(frame, corrected_is_indication_plus_correction) {
  frame f = at_five_percent_oxygen();
  EXPECT_EQ(f.corrected(channel::o2), 0.050);
  f.correction[index_of(channel::o2)] = -0.002;
  EXPECT_EQ(f.corrected(channel::o2), 0.050 - 0.002);
  EXPECT_EQ(f.indication[channel::o2], 0.050) << "what was read stays as it was read";
}

TEST(frame, a_lane_is_usable_when_there_and_unmarked) {
  frame f = at_five_percent_oxygen();
  EXPECT_TRUE(f.usable(channel::o2));
  EXPECT_FALSE(f.usable(channel::co)) << "not there";
  f.add_mark(channel::o2, quality::outlier);
  EXPECT_FALSE(f.usable(channel::o2));
  EXPECT_TRUE(f.indication.has(channel::o2)) << "marked, not removed";
}

TEST(frame, a_lane_is_possible_until_it_is_implausible) {
  frame f = at_five_percent_oxygen();
  EXPECT_FALSE(f.possible(channel::co)) << "not there";
  f.add_mark(channel::o2, quality::outlier);
  EXPECT_TRUE(f.possible(channel::o2)) << "perhaps the first row of something real";
  f.add_mark(channel::o2, quality::implausible);
  EXPECT_FALSE(f.possible(channel::o2));
}

TEST(frame, marks_add_up) {
  frame f = at_five_percent_oxygen();
  f.add_mark(channel::o2, quality::outlier);
  f.add_mark(channel::o2, quality::stuck);
  EXPECT_EQ(f.mark(channel::o2), quality::outlier | quality::stuck);
  EXPECT_EQ(f.mark(channel::co), quality::good);
}

TEST(frame, over_range_is_a_mark_without_a_value) {
  frame f = at_five_percent_oxygen();
  f.add_mark(channel::co, quality::over_range);
  EXPECT_FALSE(f.usable(channel::co));
  EXPECT_FALSE(f.indication.has(channel::co));
  EXPECT_NE(f, at_five_percent_oxygen());
}

}  // namespace
}  // namespace stilling
