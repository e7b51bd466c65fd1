// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#include <gtest/gtest.h>

#include <string>

#include "feeding.hpp"

namespace stilling::command {
namespace {

layout with_time(clock_form form, std::uint16_t field) {
  layout l;
  l.time = {form, time_unit::second, field, field};
  l.insert({static_cast<std::uint16_t>(field == 0 ? 1 : 0), channel::o2, unit::percent});
  return l;
}

TEST(intake, writes_a_note_at_the_time_of_the_newest_row) {
  const auto columns = with_time(clock_form::number, 0);
  intake in{log_options{}};
  in.take("time_s,o2_pct\n11.5,5\n# 11.5 a note\n");
  EXPECT_EQ(in.write_note("adjusted air", &columns), "# 11.5 adjusted air\n");
  in.take("12.5,");
  EXPECT_FALSE(in.between_lines());
  in.take("5.1\r\n");
  EXPECT_TRUE(in.between_lines());
  EXPECT_EQ(in.write_note("smoke 1", &columns), "# 12.5 smoke 1\n");
}

TEST(intake, leaves_the_time_to_the_row_after_it_where_it_knows_none) {
  const auto columns = with_time(clock_form::number, 0);
  intake in{log_options{}};
  EXPECT_EQ(in.write_note("air", nullptr), "# air\n");
  in.take("time_s,o2_pct\n");
  EXPECT_EQ(in.write_note("air", &columns), "# air\n");
  EXPECT_EQ(in.write_note("312 gal in the tank", &columns), "# remark 312 gal in the tank\n");
  in.take("1x.5,5\n");  // noise
  EXPECT_EQ(in.write_note("air", &columns), "# air\n");
}

TEST(intake, keeps_the_form_of_the_logs_clock) {
  const auto columns = with_time(clock_form::stamp, 1);
  intake in{log_options{}};
  in.take("o2_pct,time\n5,2026-03-17T10:00:01Z\n");
  EXPECT_EQ(in.write_note("air", &columns), "# 2026-03-17T10:00:01Z air\n");
}

TEST(intake, ends_a_line_that_nothing_ends_any_more) {
  intake in{log_options{}};
  in.take("time_s,o2_pct\n1,5\n2,5");
  const auto columns = with_time(clock_form::number, 0);
  EXPECT_EQ(in.write_note("air", &columns), "\n# 1 air\n");
}

TEST(intake, stamps_a_note_where_it_stamps_rows) {
  log_options o;
  o.stamped = true;
  intake in{o};
  in.take("o2_pct\n5\n");
  const std::string written{in.write_note("air", nullptr)};
  EXPECT_TRUE(written.starts_with("# 1") || written.starts_with("# 2")) << written;
  EXPECT_TRUE(written.ends_with(" air\n")) << written;
}

}  // namespace
}  // namespace stilling::command
