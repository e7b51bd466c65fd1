// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#include "stilling/decoding/row.hpp"

#include <gtest/gtest.h>

namespace stilling {
namespace {

TEST(row, keeps_cell_faults_side_by_side_and_a_row_fault_alone) {
  row r;
  r.usable = true;
  r.add({fault::bad_number, 2, "x"});
  r.add({fault::not_text, 3, "y"});
  EXPECT_EQ(r.flaw_count, 2);
  EXPECT_TRUE(r.has(fault::not_text));
  r.reject({fault::too_few_fields, 0, "line"});
  EXPECT_EQ(r.flaw_count, 1);
  EXPECT_EQ(r.flaws[0].what, fault::too_few_fields);
  EXPECT_FALSE(r.usable);
}

TEST(row, has_room_for_a_fault_in_each_channel) {
  row r;
  for (std::size_t i = 0; i < channel_count; ++i) r.add({});
  EXPECT_EQ(r.flaw_count, channel_count);
}

TEST(row, forgets) {
  row r;
  r.held.indication.set(channel::o2, 0.05);
  r.held.add_mark(channel::co, quality::over_range);
  r.held.written_step[0] = 0.1;
  r.add({});
  r.clear();
  EXPECT_EQ(r.held, frame{});
  EXPECT_EQ(r.flaw_count, 0);
}

TEST(said_once, says_each_kind_once) {
  said_once s;
  int heard = 0;
  const auto report = [&](const assumption&) { ++heard; };
  s.say({.what = assumed::utc}, report);
  s.say({.line = 9, .what = assumed::utc}, report);
  s.say({.what = assumed::epoch}, report);
  EXPECT_EQ(heard, 2);
}

}  // namespace
}  // namespace stilling
