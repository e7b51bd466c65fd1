// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#include "stilling/items/layout.hpp"

#include <gtest/gtest.h>

namespace stilling {
namespace {

static_assert(std::is_trivially_copyable_v<layout>);

TEST(layout, finds_columns_by_channel_and_keeps_them_by_field) {
  layout l;
  EXPECT_TRUE(l.insert({4, channel::co, unit::ppm}));
  EXPECT_TRUE(l.insert({1, channel::stack_temp, unit::celsius}));
  EXPECT_TRUE(l.insert({3, channel::o2, unit::fraction}));
  std::uint16_t before = 0;
  for (const auto& c : l) {
    EXPECT_GE(c.field, before);
    before = c.field;
  }
  ASSERT_NE(l.find(channel::o2), nullptr);
  EXPECT_EQ(l.find(channel::o2)->field, 3);
  EXPECT_EQ(l.find(channel::no), nullptr);
}

TEST(layout, has_one_column_for_a_channel) {
  layout l;
  EXPECT_TRUE(l.insert({1, channel::o2, unit::percent}));
  EXPECT_FALSE(l.insert({2, channel::o2, unit::fraction}));
  EXPECT_EQ(l.count, 1);
}

TEST(layout, says_units_of_channels_it_has_and_canonical_ones_else) {
  layout l;
  l.insert({1, channel::stack_temp, unit::fahrenheit});
  EXPECT_EQ(l.unit_of(channel::stack_temp), unit::fahrenheit);
  EXPECT_EQ(l.unit_of(channel::ambient_temp), unit::kelvin);
  EXPECT_EQ(l.unit_of(channel::draft_breech), unit::pascal);
}

}  // namespace
}  // namespace stilling
