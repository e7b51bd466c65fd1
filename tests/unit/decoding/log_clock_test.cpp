// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#include "stilling/decoding/log_clock.hpp"

#include <gtest/gtest.h>

#include <vector>

namespace stilling {
namespace {

struct told {
  std::vector<double> seconds;
  std::vector<assumed> said;
  std::vector<std::string> taken;
};

told tell(const time_column& column, std::initializer_list<std::string_view> texts,
          const decoder_settings& s = {}) {
  told out;
  log_clock c{column};
  for (auto text : texts) {
    const auto r = c.read(text, s, [&](const assumption& a) {
      out.said.push_back(a.what);
      out.taken.emplace_back(a.taken);
    });
    out.seconds.push_back(r && r->length == text.size() ? in_seconds(r->at.time_since_epoch())
                                                        : -1);
  }
  return out;
}

constexpr time_column stamps{.form = clock_form::stamp};
constexpr time_column minutes{.form = clock_form::number, .in = time_unit::minute};

TEST(log_clock, reads_numbers_in_the_unit_of_the_column) {
  const auto t = tell(minutes, {"1.5", "2", "2026-03-07"});
  EXPECT_EQ(t.seconds, (std::vector<double>{90, 120, -1}));
  EXPECT_TRUE(t.said.empty());
}

TEST(log_clock, knows_epochs_by_their_magnitude_and_says_so) {
  for (const auto& [text, name] : {std::pair{"1795528980", "s"},
                                   {"1795528980000", "ms"},
                                   {"1795528980000000", "us"},
                                   {"1795528980000000000", "ns"},
                                   {"1795528980.0", "s"},
                                   {"1795528.980e3", "s"}}) {
    const auto t = tell(stamps, {text});
    EXPECT_EQ(t.seconds[0], 1'795'528'980) << text;
    ASSERT_EQ(t.said, std::vector{assumed::epoch}) << text;
    EXPECT_EQ(t.taken[0], name);
  }
  const auto small = tell(stamps, {"12.5", "1795528980000"});
  EXPECT_EQ(small.seconds[0], 12.5);
  EXPECT_EQ(small.seconds[1], 1'795'528'980) << "no clock runs that many seconds";
  EXPECT_EQ(small.said, (std::vector{assumed::time_in_seconds, assumed::epoch}));
  EXPECT_EQ(tell(stamps, {"1772884780000", "5"}).seconds[1], 0.005) << "the first stamp decides";
}

TEST(log_clock, lets_no_stamp_decide_that_cannot_be_read) {
  const auto t = tell(stamps, {"5e20", "31 Dec 2026 23:59:50", "12", "2026-12-31T23:59:51Z"});
  EXPECT_EQ(t.seconds, (std::vector<double>{-1, 1'798'761'590, 12, 1'798'761'591}));
  EXPECT_EQ(tell(stamps, {"20261231 235950", "0,5", "1,234"}).seconds,
            (std::vector<double>{1'798'761'590, 0.5, -1}))
      << "1,234 may be thousands";
}

TEST(log_clock, learns_whether_day_or_month_comes_first) {
  const auto us = tell(stamps, {"03/04/2026 00:00:00", "03/17/2026 00:00:00", "03/04/2026 00:00:00",
                                "17/03/2026 00:00:00"});
  EXPECT_EQ(us.seconds, (std::vector<double>{-1, 1'773'705'600, 1'772'582'400, -1}))
      << "4 March, and never both ways in one log";
  EXPECT_EQ(us.said, (std::vector{assumed::month_first, assumed::utc}));
  const auto eu = tell(stamps, {"17-03-2026 00:00", "04-03-2026 00:00", "05/05/2026 00:00"});
  EXPECT_EQ(eu.seconds, (std::vector<double>{1'773'705'600, 1'772'582'400, 1'777'939'200}));
  EXPECT_EQ(eu.said, (std::vector{assumed::day_first, assumed::utc}));
}

TEST(log_clock, leaves_a_column_with_a_unit_alone) {
  const auto t = tell({.form = clock_form::number, .in = time_unit::second}, {"1795528980"});
  EXPECT_TRUE(t.said.empty());
}

TEST(log_clock, says_utc_once_where_no_offset_is_given) {
  const auto t = tell(stamps, {"1970-01-01T01:00:00", "1970-01-01T01:00:01"});
  EXPECT_EQ(t.seconds, (std::vector<double>{3600, 3601}));
  EXPECT_EQ(t.said, std::vector{assumed::utc});
  const auto offset = tell(stamps, {"1970-01-01T01:00:00+01:00"});
  EXPECT_EQ(offset.seconds[0], 0);
  EXPECT_TRUE(offset.said.empty());
}

TEST(log_clock, carries_a_clock_without_a_date_over_midnight) {
  const auto t =
      tell(stamps, {"23:59:50", "00:00:00", "23:59:55", "00:00:10", "13:00:00", "12:30"});
  EXPECT_EQ(t.seconds, (std::vector<double>{86'390, 86'400, 86'395, 86'410, 133'200, 131'400}));
  EXPECT_EQ(t.said, (std::vector{assumed::date, assumed::utc}));
}

TEST(log_clock, carries_a_date_without_a_year_over_new_year) {
  const auto t =
      tell(stamps, {"Dec 31 23:59:59", "Jan 1 00:00:00", "Dec 31 23:59:58", "Jan 2 00:00"},
           {.year = 2025});
  EXPECT_EQ(t.seconds[1] - t.seconds[0], 1);
  EXPECT_EQ(t.seconds[2] - t.seconds[0], -1) << "a late row";
  EXPECT_EQ(t.seconds[3] - t.seconds[1], 86'400);
}

TEST(log_clock, reads_the_form_it_is_told) {
  const auto t =
      tell(stamps, {"02/01/1970 00:00:01", "86402"}, {.time_format = "%d/%m/%Y %H:%M:%S"});
  EXPECT_EQ(t.seconds, (std::vector<double>{86'401, -1})) << "a bare number is not that form";
}

TEST(log_clock, refuses_what_is_no_time) {
  EXPECT_EQ(tell(stamps, {"soon", "3000-01-01 00:00", "99999999999999999999"}).seconds,
            (std::vector<double>{-1, -1, -1}));
}

}  // namespace
}  // namespace stilling
