// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#include "stilling/stages/timeline.hpp"

#include <gtest/gtest.h>

#include "support/input_chain.hpp"

namespace stilling {
namespace {

using testing::heard;

static_assert(stage<timeline> && accepts<timeline, frame> && accepts<timeline, note>);
static_assert(!accepts<timeline, record>);

frame row(double t, double kelvins, std::uint64_t line = 0) {
  frame f;
  f.at = instant{*duration_from_seconds(t)};
  f.line = line;
  f.indication.set(channel::stack_temp, kelvins);
  return f;
}

heard hear(const std::vector<frame>& rows, const timeline_settings& s = {}) {
  heard out;
  auto sink = out.sink();
  timeline t{s};
  for (const auto& r : rows) t.push(r, sink);
  t.finish(sink);
  return out;
}

TEST(timeline, lets_a_clean_log_pass_untouched) {
  const std::vector<frame> rows{row(0, 400), row(1, 400), row(2.5, 401)};
  const auto got = hear(rows);
  EXPECT_EQ(got.frames, rows) << "equal values at other times are no repeats";
  EXPECT_TRUE(got.breaks.empty() && got.rejections.empty() && got.assumptions.empty());
}

TEST(timeline, drops_a_row_sent_twice) {
  const auto got = hear({row(0, 400, 1), row(1, 401, 2), row(1, 401, 3), row(2, 402, 4)});
  EXPECT_EQ(got.frames.size(), 3U);
  ASSERT_EQ(got.rejections.size(), 1U);
  EXPECT_EQ(got.rejections[0].what, fault::repeated);
  EXPECT_EQ(got.rejections[0].line, 3U);
  EXPECT_TRUE(got.breaks.empty());
}

TEST(timeline, drops_a_row_sent_many_times_over) {
  std::vector<frame> rows{row(0, 400), row(1, 401)};
  for (int i = 0; i < 20; ++i) rows.push_back(row(2, 402));
  rows.push_back(row(3, 403));
  const auto got = hear(rows);
  EXPECT_EQ(got.seconds(), (std::vector<double>{0, 1, 2, 3})) << "this clock is not coarse";
  EXPECT_EQ(got.count(fault::repeated), 19U);
}

TEST(timeline, drops_a_stretch_sent_again_and_goes_on) {
  std::vector<frame> rows;
  for (int i = 0; i < 30; ++i) rows.push_back(row(i, 400 + i));
  for (int i = 20; i < 40; ++i) rows.push_back(row(i, 400 + i));
  const auto got = hear(rows);
  EXPECT_EQ(got.frames.size(), 40U);
  EXPECT_EQ(got.count(fault::repeated), 10U);
  EXPECT_TRUE(got.breaks.empty()) << "nothing was lost and nothing is out of order";
}

TEST(timeline, names_a_stretch_sent_again_that_then_differs) {
  const auto got = hear({row(0, 400), row(1, 401), row(2, 402), row(1, 401), row(1.5, 300)});
  ASSERT_EQ(got.breaks.size(), 1U);
  EXPECT_EQ(got.breaks[0].kind, break_kind::repeat);
  EXPECT_EQ(got.frames.size(), 4U);
}

TEST(timeline, breaks_where_the_clock_goes_back_and_sorts_nothing) {
  const auto got = hear({row(100, 400, 1), row(101, 401, 2), row(5, 402, 3), row(6, 403, 4)});
  ASSERT_EQ(got.breaks.size(), 1U);
  EXPECT_EQ(got.breaks[0], (testing::kept_break{3, row(5, 0).at, break_kind::clock_back, 2}));
  EXPECT_EQ(got.frames.size(), 4U);
  EXPECT_EQ(got.frames[2], row(5, 402, 3));
}

TEST(timeline, forgets_rows_from_before_a_break) {
  const auto got = hear({row(1, 400), row(2, 401), row(1.5, 300), row(2, 401)});
  EXPECT_EQ(got.frames.size(), 4U) << "the second 2 s row belongs to another clock";
}

TEST(timeline, calls_silence_silence_and_a_set_clock_a_jump) {
  EXPECT_TRUE(hear({row(0, 1), row(1, 2), row(121, 3)}).breaks.empty()) << "two minutes";
  EXPECT_TRUE(hear({row(0, 1), row(10, 2), row(43'160, 3)}).breaks.empty()) << "over night";
  const auto years = hear({row(0, 1), row(10, 2), row(8e8, 3)});
  ASSERT_EQ(years.breaks.size(), 1U);
  EXPECT_EQ(years.breaks[0].kind, break_kind::clock_jump);
  EXPECT_EQ(
      hear({row(0, 1), row(10, 2), row(60, 3)}, {.longest_silence = seconds(30)}).breaks.size(),
      1U);
}

TEST(timeline, sees_a_skipped_hour) {
  const auto got = hear({row(0, 1), row(10, 2), row(3620, 3), row(3630, 4)});
  ASSERT_EQ(got.breaks.size(), 1U);
  EXPECT_EQ(got.breaks[0].kind, break_kind::clock_jump);
  EXPECT_TRUE(hear({row(0, 1), row(10, 2), row(3900, 3)}).breaks.empty()) << "no whole hour";
}

TEST(timeline, spreads_rows_that_share_a_stamp) {
  std::vector<frame> rows;
  for (int i = 0; i < 12; ++i) rows.push_back(row(60 * (i / 4), 400 + i));
  const auto got = hear(rows);
  ASSERT_EQ(got.frames.size(), 12U);
  EXPECT_TRUE(got.says(assumed::spacing));
  EXPECT_EQ(got.assumptions.size(), 1U);
  EXPECT_EQ(got.frames[1].at, row(0.001, 0).at) << "nothing known yet: a millisecond";
  EXPECT_EQ(got.frames[5].at, row(75, 0).at) << "four rows a minute";
  EXPECT_EQ(got.frames[11].at, row(165, 0).at);
  for (std::size_t i = 1; i < 12; ++i) EXPECT_LT(got.frames[i - 1].at, got.frames[i].at);
}

TEST(timeline, spreads_as_told) {
  const auto got = hear({row(0, 1), row(0, 2), row(0, 3)}, {.spacing = seconds(2)});
  EXPECT_EQ(got.seconds(), (std::vector<double>{0, 2, 4}));
}

TEST(timeline, keeps_order_where_more_rows_share_a_stamp_than_before) {
  std::vector<frame> rows{row(0, 1), row(60, 2)};
  for (int i = 0; i < 200; ++i) rows.push_back(row(60, 3 + i));
  rows.push_back(row(120, 300));
  const auto got = hear(rows);
  ASSERT_EQ(got.frames.size(), rows.size());
  for (std::size_t i = 1; i < rows.size(); ++i) EXPECT_LT(got.frames[i - 1].at, got.frames[i].at);
  EXPECT_EQ(got.frames.back().at, row(120, 0).at);
  EXPECT_TRUE(got.breaks.empty());
}

TEST(timeline, keeps_rows_that_agree_where_the_clock_is_coarse) {
  std::vector<frame> rows;
  for (int i = 0; i < 30; ++i) rows.push_back(row(60 * (i / 10), 400));
  const auto got = hear(rows);
  EXPECT_EQ(got.frames.size() + got.rejections.size(), 30U);
  EXPECT_LE(got.rejections.size(), 2U) << "only until more than three were seen to share a stamp";
}

TEST(timeline, gives_a_note_the_time_of_the_row_after_it) {
  heard got;
  auto sink = got.sink();
  timeline t;
  t.push(note{.line = 1, .text = "probe in"}, sink);
  EXPECT_TRUE(got.notes.empty());
  t.push(row(5, 400), sink);
  t.push(note{.line = 3, .at = row(2, 0).at, .text = "smoke 1"}, sink);
  t.push(note{.line = 4, .text = "adjusted air"}, sink);
  t.finish(sink);
  ASSERT_EQ(got.notes.size(), 3U);
  EXPECT_EQ(got.notes[0], (testing::kept_note{1, row(5, 0).at, "probe in"}));
  EXPECT_EQ(got.notes[1], (testing::kept_note{3, row(2, 0).at, "smoke 1"}));
  EXPECT_EQ(got.notes[2], (testing::kept_note{4, row(5, 0).at, "adjusted air"})) << "no row after";
}

TEST(timeline, loses_no_note_when_there_are_too_many) {
  heard got;
  auto sink = got.sink();
  timeline t;
  for (int i = 0; i < 100; ++i) t.push(note{.text = "a line of a long preamble"}, sink);
  t.push(row(5, 400), sink);
  EXPECT_EQ(got.notes.size(), 100U);
}

TEST(timeline, takes_a_note_to_the_far_side_of_a_break) {
  heard got;
  auto sink = got.sink();
  timeline t;
  t.push(row(5, 400), sink);
  t.push(note{.text = "restarted the logger"}, sink);
  t.push(row(0, 400), sink);
  ASSERT_EQ(got.notes.size(), 1U);
  EXPECT_EQ(got.notes[0].at, row(0, 0).at);
}

TEST(timeline, holds_the_last_row_where_rows_come_on_change_only) {
  const timeline_settings s{.hold = seconds(2)};
  const auto got = hear({row(0, 400, 2), row(7, 401, 3)}, s);
  EXPECT_EQ(got.seconds(), (std::vector<double>{0, 2, 4, 6, 7}));
  EXPECT_EQ(got.frames[3].line, 0U) << "it came from no line";
  EXPECT_EQ(got.frames[3].indication, got.frames[0].indication);
  EXPECT_EQ(hear({row(0, 400), row(2, 401)}, s).frames.size(), 2U);
}

TEST(timeline, holds_while_time_passes_and_no_differently) {  // law 2
  const timeline_settings s{.hold = seconds(2)};
  heard got;
  auto sink = got.sink();
  timeline t{s};
  t.advance(row(50, 0).at, sink);
  t.push(row(0, 400), sink);
  t.advance(row(3, 0).at, sink);
  EXPECT_EQ(got.frames.size(), 2U);
  t.advance(row(3.5, 0).at, sink);
  t.advance(row(6, 0).at, sink);
  t.push(row(7, 401), sink);
  EXPECT_EQ(got.frames, hear({row(0, 400), row(7, 401)}, s).frames);
}

// Law 4.
TEST(timeline, shifts_with_its_stamps) {
  std::vector<frame> rows;
  for (int i = 0; i < 12; ++i) rows.push_back(row(60 * (i / 4), 400 + i));
  rows.push_back(row(3, 1));
  auto shifted = rows;
  const duration by = seconds(1'700'000'007) + duration{13};
  for (auto& r : shifted) r.at += by;
  const auto a = hear(rows);
  const auto b = hear(shifted);
  ASSERT_EQ(a.frames.size(), b.frames.size());
  for (std::size_t i = 0; i < a.frames.size(); ++i) EXPECT_EQ(a.frames[i].at + by, b.frames[i].at);
  EXPECT_EQ(a.breaks.size(), b.breaks.size());
}

}  // namespace
}  // namespace stilling
