// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#include "stamps.hpp"

#include <gtest/gtest.h>

#include <string>
#include <string_view>

namespace stilling::command {
namespace {

instant at(int s) { return instant{seconds(s)}; }

std::string stamped(const decoder_settings& s, std::string_view bytes) {
  stamper stamps{s};
  std::string to;
  stamps.push(bytes, at(10), to);
  stamps.finish(to);
  return to;
}

decoder_settings fields(std::string_view names) {
  decoder_settings s;
  s.fields = names;
  return s;
}

TEST(stamper, puts_a_column_in_front_of_header_and_rows) {
  EXPECT_EQ(stamped({}, "stack_temp_degF,o2_pct\n450,5.0\n451,5.1\n"),
            "time_s,stack_temp_degF,o2_pct\n10.000000,450,5.0\n10.000001,451,5.1\n");
}

TEST(stamper, writes_the_header_a_stream_does_not_have) {
  EXPECT_EQ(stamped(fields("stack_temp_degF,-,o2_pct"), "450,x,5.0\n"),
            "time_s,stack_temp_degF,-,o2_pct\n10.000000,450,x,5.0\n");
}

TEST(stamper, keeps_the_separator_of_the_stream) {
  EXPECT_EQ(stamped({}, "stack_temp_degF;o2_pct\n450;5,0\n"),
            "time_s;stack_temp_degF;o2_pct\n10.000000;450;5,0\n");
  EXPECT_EQ(stamped(fields("stack_temp_degF,o2_pct"), "450\t5.0\n"),
            "time_s\tstack_temp_degF\to2_pct\n10.000000\t450\t5.0\n");
}

TEST(stamper, gives_notes_a_time_of_their_own) {
  const std::string head = "stack_temp_degF,o2_pct\n";
  EXPECT_EQ(stamped({}, head + "  #probe in\n"), "time_s," + head + "# 10.000000 probe in\n");
  EXPECT_EQ(stamped({}, head + "# probe in\n"), "time_s," + head + "# 10.000000 probe in\n");
}

TEST(stamper, gives_notes_no_time_that_could_not_be_read) {
  EXPECT_EQ(stamped(fields("stack_temp_degF,o2_pct"), "# fresh air\n450,5.0\n"),
            "# fresh air\ntime_s,stack_temp_degF,o2_pct\n10.000000,450,5.0\n");
}

TEST(stamper, puts_a_unit_in_front_of_a_row_of_units) {
  EXPECT_EQ(stamped({}, "stack_temp;o2\ndegF;%\n450;5.0\n"),
            "\ntime_s;stack_temp;o2\ns;degF;%\n10.000000;450;5.0\n");
  EXPECT_EQ(stamped({}, "stack_temp_degF,o2_pct\ndegF,%\n450,5.0\n"),
            "time_s,stack_temp_degF,o2_pct\ns,degF,%\n10.000000,450,5.0\n");
  EXPECT_EQ(stamped({}, "stack_temp,o2\n450 degF,5.0 %\n"),
            "\ntime_s,stack_temp,o2\n10.000000,450 degF,5.0 %\n");
  EXPECT_EQ(stamped({}, "stack_temp,o2"), "time_s,stack_temp,o2\n");
}

TEST(stamper, knows_a_header_that_comes_again) {
  const std::string head = "stack_temp_degF,o2_pct\n";
  EXPECT_EQ(stamped({}, head + head + "450,5.0\n" + head),
            "time_s," + head + "time_s," + head + "10.000000,450,5.0\ntime_s," + head);
  EXPECT_EQ(stamped(fields("stack_temp_degF,o2_pct"), "450,5.0\n" + head),
            "time_s," + head + "10.000000,450,5.0\ntime_s," + head);
}

TEST(stamper, marks_a_line_that_was_torn) {
  stamper stamps{fields("stack_temp_degF,o2_pct,co_ppm")};
  std::string to;
  stamps.push("450;", at(1), to);
  stamps.tear(to);
  stamps.tear(to);
  stamps.push("451;5,0;20\n451;5,0;2", at(2), to);
  stamps.reconnect(at(9), to);
  stamps.push("1;20\n", at(10), to);
  EXPECT_EQ(to,
            "1.000000,450;\x18\ntime_s;stack_temp_degF;o2_pct;co_ppm\n2.000000;451;5,0;20\n"
            "2.000001;451;5,0;2\x18\n# 9.000000 reconnect\n10.000000;1;20\n");
}

TEST(stamper, marks_a_first_line_that_may_lack_its_beginning) {
  auto s = fields("stack_temp_degF,o2_pct");
  s.joined = true;
  EXPECT_EQ(stamped(s, "0\t5.0\n450\t5.0\n"),
            "10.000000,0\t5.0\x18\ntime_s\tstack_temp_degF\to2_pct\n10.000001\t450\t5.0\n");
  s.fields = "";
  EXPECT_EQ(stamped(s, "stack_temp_degF,o2_pct\n450,5.0\n"),
            "time_s,stack_temp_degF,o2_pct\n10.000000,450,5.0\n")
      << "a header is whole";
}

TEST(stamper, found_again_before_the_first_row_is_as_good_as_new) {
  stamper stamps{fields("stack_temp_degF,o2_pct")};
  std::string to;
  stamps.reconnect(at(1), to);
  stamps.push("0,5.0\n450,5.0\n", at(2), to);
  EXPECT_EQ(to, "2.000000,0,5.0\x18\ntime_s,stack_temp_degF,o2_pct\n2.000001,450,5.0\n");
}

TEST(stamper, counts_a_line_from_its_first_byte) {
  stamper stamps{fields("stack_temp_degF,o2_pct")};
  std::string to;
  stamps.push("45", at(1), to);
  stamps.push("0,5.0\r", at(2), to);
  stamps.push("\n451,5.1\r\n\r\n452", at(3), to);
  EXPECT_EQ(to, "time_s,stack_temp_degF,o2_pct\n1.000000,450,5.0\n3.000000,451,5.1\n\n");
  stamps.finish(to);
  EXPECT_TRUE(to.ends_with("\n3.000001,452")) << to;
}

TEST(stamper, never_gives_two_rows_one_time) {
  stamper stamps{fields("stack_temp_degF,o2_pct")};
  std::string to;
  stamps.push("450,5.0\n450,5.0\n", at(1), to);
  stamps.push("450,5.0\n", at(1), to);
  EXPECT_TRUE(to.ends_with("1.000000,450,5.0\n1.000001,450,5.0\n1.000002,450,5.0\n")) << to;
}

TEST(stamper, notices_a_log_that_has_times) {
  stamper stamps{decoder_settings{}};
  std::string to;
  stamps.push("time_s,stack_temp_degF,o2_pct\n", at(1), to);
  EXPECT_TRUE(stamps.has_own_times());
}

TEST(stamper, leaves_a_log_with_times_alone_where_it_is_asked_to) {
  for (std::string log : {"time_s,o2_pct\n1,5.0\n# probe in\n2,5.1\n",
                          "time_s,o2\ns,%\n1,5.0\n# probe in\n2,5.1\n"}) {
    stamper stamps{decoder_settings{}, true};
    std::string to;
    stamps.push("# fresh air\n" + log + "3,5.", at(10), to);
    stamps.reconnect(at(20), to);
    stamps.push("4,5.2\n", at(21), to);
    if (log.starts_with("time_s,o2\n")) log.insert(0, "\n");
    EXPECT_EQ(to, "# fresh air\n" + log + "3,5.\x18\n# reconnect\n4,5.2\n");
  }
  stamper stamps{decoder_settings{}, true};
  std::string to;
  stamps.push("o2_pct\n5.0\n", at(10), to);
  EXPECT_EQ(to, "time_s,o2_pct\n10.000000,5.0\n");
}

TEST(stamper, holds_a_line_without_end_in_bounded_memory) {
  stamper stamps{decoder_settings{}};
  std::string to;
  const std::string part(100'000, 'x');
  for (int i = 0; i < 100; ++i) stamps.push(part, at(1), to);
  EXPECT_TRUE(to.empty());
  stamps.finish(to);
  EXPECT_LT(to.size(), 70'000U);
}

TEST(arrival_clock, does_not_step_back) {
  const arrival_clock clock;
  auto last = clock.time();
  EXPECT_GT(last, instant{seconds(1'600'000'000)});
  for (int i = 0; i < 1000; ++i) {
    const auto now = clock.time();
    EXPECT_GE(now, last);
    last = now;
  }
}

}  // namespace
}  // namespace stilling::command
