// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#include "stilling/stages/decoder.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <string>

#include "stilling/stages/timeline.hpp"
#include "support/input_chain.hpp"

namespace stilling {
namespace {

using testing::heard;
using testing::listen;

static_assert(stage<decoder> && accepts<decoder, record> && interrupts<decoder>);
static_assert(!accepts<decoder, frame>, "a frame passes it by");

decoder_settings ruled(std::initializer_list<std::string_view> texts) {
  decoder_settings s;
  for (auto t : texts) s.add(*read_column_rule(t));
  return s;
}

TEST(decoder, hands_the_layout_on_before_the_frames) {
  heard got;
  bool first = true;
  decoder d;
  auto rest = got.sink();
  const auto sink = overloaded{[&](const layout& l) {
                                 EXPECT_TRUE(first);
                                 rest(l);
                               },
                               [&](const auto& item) {
                                 first = false;
                                 rest(item);
                               }};
  d.push(record{1, "time_s,o2_pct"}, sink);
  d.push(record{2, "1,5.1"}, sink);
  ASSERT_EQ(got.layouts.size(), 1U);
  EXPECT_EQ(got.layouts[0].unit_of(channel::o2), unit::percent);
  ASSERT_EQ(got.frames.size(), 1U);
  EXPECT_EQ(got.frames[0].line, 2U);
  EXPECT_EQ(got.frames[0].at, instant{seconds(1)});
}

TEST(decoder, refuses_rows_before_any_header) {
  const auto h = listen("412.5,5.1\nhello\ntime_s,o2_pct\n1,5\n");
  EXPECT_EQ(h.count(fault::no_layout), 2U);
  EXPECT_EQ(h.frames.size(), 1U);
}

TEST(decoder, breaks_where_the_header_changes) {
  const auto columns = listen("time_s,o2_pct,co_ppm\n1,5,21\ntime_s,co_ppm,o2_pct\n2,21,5\n");
  ASSERT_EQ(columns.breaks.size(), 1U);
  EXPECT_EQ(columns.breaks[0].kind, break_kind::new_header);
  EXPECT_EQ(columns.breaks[0].line, 3U);
  EXPECT_EQ(columns.frames[1].indication, columns.frames[0].indication);
  const auto units = listen("time_s,stack_temp_degF\n1,212\ntime_s,stack_temp_degC\n2,100\n");
  ASSERT_EQ(units.breaks.size(), 1U);
  EXPECT_EQ(units.breaks[0].kind, break_kind::new_units);
  EXPECT_NEAR(units.frames[1].indication[channel::stack_temp],
              units.frames[0].indication[channel::stack_temp], 1e-9);
  EXPECT_EQ(units.layouts.size(), 2U);
}

TEST(decoder, minds_no_header_with_its_units_again) {
  const std::string head = "Time,O2\ns,%\n";
  const auto h = listen(head + "1,5\n" + head + "2,5\nTime,O2\n3,5\n");
  EXPECT_EQ(h.frames.size(), 3U);
  EXPECT_TRUE(h.breaks.empty() && h.rejections.empty());
  EXPECT_EQ(h.layouts.size(), 1U);
  EXPECT_EQ(listen("time_s,o2_pct\ns,%\n1,5\n").rejections.size(), 0U) << "units said twice";
}

TEST(decoder, takes_other_units_under_the_same_header_for_a_break) {
  const auto h = listen("Time,Stack,O2\ns,F,%\n1,450,5\nTime,Stack,O2\ns,C,%\n2,233,5\n");
  ASSERT_EQ(h.breaks.size(), 1U);
  EXPECT_EQ(h.breaks[0].kind, break_kind::new_units);
  EXPECT_EQ(h.frames.size(), 2U);
  EXPECT_TRUE(h.rejections.empty());
  EXPECT_NEAR(h.values(channel::stack_temp, unit::celsius)[1], 233, 1e-9);
}

TEST(decoder, leaves_out_the_columns_whose_unit_is_blank_and_no_others) {
  const auto h = listen("Time,Stack,O2\ns,,%\n1,450,5\n2,451,5\n");
  EXPECT_EQ(h.frames.size(), 2U);
  ASSERT_EQ(h.rejections.size(), 1U);
  EXPECT_EQ(h.rejections[0], (testing::kept_rejection{2, fault::no_unit, 2, "stack_temp"}));
}

TEST(decoder, says_where_a_row_of_units_is_not_what_the_names_say) {
  const auto h = listen("time_s,stack_temp_degF,o2_pct\ns,degC,%\n1,450,5\n");
  ASSERT_EQ(h.assumptions.size(), 1U);
  EXPECT_EQ(h.assumptions[0],
            (testing::kept_assumption{2, assumed::units_contradict, 2, "degC", ""}));
  EXPECT_NEAR(h.values(channel::stack_temp, unit::fahrenheit)[0], 450, 1e-9);
}

TEST(decoder, lets_a_row_that_cannot_be_read_take_its_interval) {
  const auto h = listen("o2_pct,co_ppm\n5,20\n5,20,3\n\n# a note\n4\x01,20\nx,20\n5,20\n",
                        {.interval = seconds(2)});
  EXPECT_EQ(h.seconds(), (std::vector<double>{0, 6, 8}));
  const auto far = listen("o2_pct\n1\n2\n3\n", {.interval = latest - instant{}});
  EXPECT_EQ(far.frames.size(), 3U) << "and no clock runs over";
}

TEST(decoder, reads_a_time_in_quotes) {
  for (auto log : {"\"time_s\",\"o2_pct\"\n\"0.5\",\"5.1\"\n", "time_s,o2_pct\n\"0,5\",\"5,1\"\n",
                   "time_s;o2_pct\n\"0,5\";\"5,1\"\n", "time_s|o2_pct\n0.5|5.1\n"}) {
    const auto h = listen(log);
    EXPECT_EQ(h.seconds(), std::vector{0.5}) << log;
    EXPECT_EQ(h.values(channel::o2, unit::percent), std::vector{5.1}) << log;
  }
  EXPECT_EQ(listen("time_s,o2_pct\n\"1,234\",5\n").count(fault::bad_time), 1U) << "or thousands";
}

TEST(decoder, joins_a_date_beside_a_time) {
  const auto h = listen("Date,Time,o2_pct\n1970-01-02,00:00:10,5\n1970-01-02,00:00:20,5\n");
  EXPECT_EQ(h.seconds(), (std::vector<double>{86'410, 86'420}));
  EXPECT_TRUE(h.says(assumed::column_proposed));
  EXPECT_FALSE(h.says(assumed::date));
  EXPECT_EQ(listen("Date,Time,o2_pct\n03/04/2026,00:00:10,5\n").count(fault::ambiguous_time), 1U);
}

TEST(decoder, minds_neither_the_same_header_again_nor_one_without_rows) {
  const auto again = listen("time_s,o2_pct\n1,5\ntime_s,o2_pct\n2,5\n");
  EXPECT_TRUE(again.breaks.empty() && again.rejections.empty());
  EXPECT_EQ(again.layouts.size(), 1U);
  const auto twice = listen("time_s,o2_pct\ntime_s,co_ppm\n1,21\n");
  EXPECT_TRUE(twice.breaks.empty());
  EXPECT_EQ(twice.layouts.size(), 2U);
}

TEST(decoder, reads_positions_under_any_separator) {
  for (auto row : {"1,412.5,x,5.1", "1;412.5;x;5.1", "1\t412.5\tx\t5.1", "1 412.5 x 5.1"}) {
    const auto h = listen(std::string{row} + "\n", {.fields = "time_s,stack_temp_degF,-,o2_pct"});
    ASSERT_EQ(h.frames.size(), 1U) << row;
    EXPECT_EQ(h.frames[0].indication.valid, (channel_set{channel::stack_temp, channel::o2})) << row;
  }
}

TEST(decoder, spaces_rows_without_a_time_as_told) {
  const auto h = listen("stack_temp_degF,o2_pct\n412,5\n413,5\n", {.interval = seconds(9)});
  EXPECT_EQ(h.seconds(), (std::vector<double>{0, 9}));
  EXPECT_TRUE(h.says(assumed::interval));
  EXPECT_EQ(listen("stack_temp_degF,o2_pct\n412,5\n").count(fault::no_layout), 2U);
}

TEST(decoder, reads_a_foreign_log_by_rules_and_a_row_of_units) {
  // A row of names and one of units, padded cells, exponents: as a fire laboratory writes them.
  const auto h = listen(
      "Time,O2Rear,Tstack,O2stack,Costack,TambCal\n"
      "s,mol/mol,C,mol/mol,mol/mol,C\n"
      "   0.,  2.071E-01,  22.6,  2.094E-01,  0.000E+00,  23.6\n"
      "  30.,  1.675E-01, 120.5,  2.000E-01,        NaN,  23.5\n",
      ruled({"Tstack=stack_temp", "O2stack=o2", "Costack=co", "TambCal=ambient_temp"}));
  ASSERT_EQ(h.frames.size(), 2U);
  EXPECT_TRUE(h.rejections.empty());
  EXPECT_NEAR(h.frames[0].indication[channel::stack_temp], 22.6 + 273.15, 1e-9);
  EXPECT_NEAR(h.frames[0].indication[channel::o2], 0.2094, 1e-12);
  EXPECT_EQ(h.frames[0].indication[channel::co], 0.0) << "a true 0";
  EXPECT_FALSE(h.frames[1].indication.has(channel::co));
  EXPECT_EQ(h.seconds(), (std::vector<double>{0, 30}));
  EXPECT_EQ(h.layouts.size(), 1U);
  EXPECT_EQ(h.assumptions.size(), 2U) << "O2Rear left out, Time proposed";
}

TEST(decoder, takes_units_from_the_cells_of_the_first_row) {
  const auto h = listen("time_s,O2,Stack\n1,5.1 %,471 F\n2,5.2 %,472 F\n");
  ASSERT_EQ(h.frames.size(), 2U);
  EXPECT_NEAR(h.values(channel::stack_temp, unit::fahrenheit)[0], 471, 1e-9);
  EXPECT_EQ(h.layouts.at(0).unit_of(channel::o2), unit::percent);
}

TEST(decoder, does_not_use_a_column_whose_unit_nothing_tells) {
  const auto h = listen("time_s,O2,co_ppm\n1,5.1,21\n2,5.2,21\n");
  EXPECT_EQ(h.frames.size(), 2U);
  EXPECT_TRUE(h.values(channel::o2, unit::percent).empty());
  ASSERT_EQ(h.rejections.size(), 1U);
  EXPECT_EQ(h.rejections[0], (testing::kept_rejection{2, fault::no_unit, 2, "o2"}));
}

TEST(decoder, reads_labelled_lines) {
  auto s = ruled({"T=stack_temp:degF", "O2=o2:pct"});
  s.labelled = true;
  const auto h = listen("time_s=1 T=471F O2=5.2%\nboot\ntime_s=2 O2=OVR T=472F\n", s);
  EXPECT_EQ(h.frames.size(), 2U);
  EXPECT_EQ(h.rejections.size(), 1U);
  EXPECT_EQ(h.frames[1].mark(channel::o2), quality::over_range);
}

TEST(decoder, hands_notes_on) {
  const auto h =
      listen("# logger on\ntime_s,o2_pct\n1,5\n# 0.5 probe in\n# smoke 1\n2,5\n# done\n");
  ASSERT_EQ(h.notes.size(), 4U);
  EXPECT_EQ(h.notes[0].text, "logger on");
  EXPECT_EQ(h.notes[0].at, instant{seconds(1)});
  EXPECT_EQ(h.notes[1].at, instant{milliseconds(500)});
  EXPECT_EQ(h.notes[2].at, instant{seconds(2)});
  EXPECT_EQ(h.notes[3].at, instant{seconds(2)});
  EXPECT_TRUE(h.rejections.empty());
}

TEST(decoder, says_which_line_is_too_long) {
  const auto h = listen("time_s,o2_pct\n1,5\n2," + std::string(9000, '5') + "\n3,5\n");
  EXPECT_EQ(h.frames.size(), 2U);
  ASSERT_EQ(h.rejections.size(), 1U);
  EXPECT_EQ(h.rejections[0].what, fault::line_too_long);
  EXPECT_EQ(h.rejections[0].line, 3U);
}

TEST(decoder, leaves_out_the_first_line_of_a_stream_joined_while_it_ran) {
  const decoder_settings s{.fields = "time_s,o2_pct", .joined = true};
  const auto h = listen("20,5\n130,5\n", s);
  EXPECT_EQ(h.frames.size(), 1U) << "20 may be the rest of 120";
  EXPECT_EQ(h.count(fault::incomplete), 1U);
  EXPECT_EQ(listen("time_s,o2_pct\n130,5\n", {.joined = true}).frames.size(), 1U)
      << "a header is whole";
}

TEST(decoder, keeps_the_layout_over_an_interruption) {
  heard got;
  auto sink = got.sink();
  auto chain = framer<>{} | decoder{} | timeline{};
  chain.push(std::string_view{"time_s,o2_pct\n1,5\n2,"}, sink);
  chain.push(discontinuity{.kind = break_kind::reconnect}, sink);
  chain.push(std::string_view{"5\n7,5.5\n"}, sink);
  chain.finish(sink);
  ASSERT_EQ(got.frames.size(), 3U);
  EXPECT_TRUE(got.frames[1].indication.valid.empty()) << "the torn line kept its time only";
  EXPECT_EQ(got.frames[2].line, 5U) << "lines count on";
  EXPECT_EQ(got.count(fault::incomplete), 2U) << "the torn line, in two pieces";
  EXPECT_EQ(got.layouts.size(), 1U);
}

TEST(decoder, forgets_everything_after_finish) {  // law 9
  heard got;
  auto sink = got.sink();
  auto chain = framer<>{} | decoder{} | timeline{};
  const std::string_view log = "# a\ntime_s;o2_pct\n1;5,5\n1;5,5\n0;6\n9;1.5";
  chain.push(log, sink);
  chain.finish(sink);
  const auto first = got;
  got = {};
  chain.push(log, sink);
  chain.finish(sink);
  EXPECT_EQ(got, first);
}

TEST(decoder, accounts_for_every_line) {  // law 6
  const std::string log =
      "preamble\ntime_s,o2_pct\n1,5\n\n2\n3,x\n# note\nsoon,5\n1,5\n4,5,6\n5,5\n";
  const auto h = listen(log);
  EXPECT_EQ(h.frames.size(), 3U);
  EXPECT_EQ(h.notes.size(), 1U);
  std::string lines;
  for (const auto& r : h.rejections) lines += std::to_string(r.line) + " ";
  EXPECT_EQ(lines, "1 5 6 8 9 10 ") << "the row of line 6 lacks one cell, line 9 was sent twice";
}

// Law 1, over everything a log may hold.
TEST(decoder, does_not_care_where_the_bytes_are_cut) {
  const std::string log =
      "\xEF\xBB\xBF# start\r\nTime [s];O2;CO [ppm]\r\n;%;\r\n0;5,1;21\r\n"
      "1;OVR;1.234,5\r\n1;OVR;1.234,5\r\n\0\0\0\0\0\0002;\"5,2\";n/a\r\n"
      "3;5\x01;1\r\ntime_s;o2_pct\r\n0;5,5\r\n# 4 end\r\n5;5,";
  const auto whole = listen(log);
  for (std::size_t piece = 1; piece < 60; ++piece) EXPECT_EQ(listen(log, {}, {}, piece), whole);
}

// Law 5.
TEST(decoder, reads_the_same_in_other_units_and_signs) {
  const auto a = listen(
      "time_s,stack_temp_degF,o2_pct,co_ppm,draft_breech_inH2O\n"
      "60,471.2,5.20,12,-0.040\n");
  const auto b = listen(
      "time_min;draft_breech_Pa;co_pct;o2_fraction;stack_temp_degC\n"
      "1,0;-9,9635564;0,0012;0,0520;244,0\n");
  ASSERT_EQ(a.frames.size(), 1U);
  ASSERT_EQ(b.frames.size(), 1U);
  EXPECT_EQ(a.frames[0].at, b.frames[0].at);
  for (auto c : {channel::stack_temp, channel::o2, channel::co, channel::draft_breech})
    EXPECT_NEAR(a.frames[0].indication[c], b.frames[0].indication[c],
                1e-9 * (1 + std::abs(a.frames[0].indication[c])));
}

TEST(decoder, learns_nothing_of_the_separator_from_a_first_line_that_is_torn) {
  decoder_settings s;
  s.fields = "time_s,o2_pct,co_ppm";
  s.joined = true;
  const auto h = listen(".2\t20\n1\t5.2\t20\n2\t5.2\t21\n", s);
  EXPECT_EQ(h.values(channel::co, unit::ppm), (std::vector<double>{20, 21}));
  EXPECT_EQ(h.count(fault::incomplete), 1U);
}

}  // namespace
}  // namespace stilling
