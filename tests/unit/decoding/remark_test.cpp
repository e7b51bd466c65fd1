// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#include "stilling/decoding/remark.hpp"

#include <gtest/gtest.h>

namespace stilling {
namespace {

note read(std::string_view line, const time_column& t, const decoder_settings& s = {}) {
  return read_note(line, log_clock{t}, s);
}
constexpr time_column in_seconds_{.form = clock_form::number};
constexpr time_column in_minutes{.form = clock_form::number, .in = time_unit::minute};
constexpr time_column stamps{.form = clock_form::stamp};

TEST(remark, begins_with_its_sign) {
  EXPECT_TRUE(is_note("# smoke 1"));
  EXPECT_TRUE(is_note("  #smoke 1"));
  EXPECT_FALSE(is_note("0,#N/A"));
  EXPECT_FALSE(is_note(""));
}

TEST(remark, takes_its_own_time_in_the_form_of_the_log) {
  const auto n = read("# 312.0 smoke trace", in_seconds_);
  EXPECT_EQ(n.at, instant{seconds(312)});
  EXPECT_EQ(n.text, "smoke trace");
  EXPECT_EQ(read("#2 reading", in_minutes).at, instant{seconds(120)});
  const auto s = read("# 1970-01-01 00:05:12 adjusted air a quarter turn", stamps);
  EXPECT_EQ(s.at, instant{seconds(312)});
  EXPECT_EQ(s.text, "adjusted air a quarter turn");
  EXPECT_EQ(read("# 12/01/1970 00:00 reading", stamps, {.time_format = "%m/%d/%Y %H:%M"}).text,
            "reading");
}

TEST(remark, has_no_time_where_none_stands) {
  for (auto line : {"# probe in", "#", "# 5", "# 5% O2 seen", "# 2nd try", "# -"}) {
    const auto n = read(line, in_seconds_);
    EXPECT_FALSE(n.at.has_value()) << line;
  }
  EXPECT_EQ(read("# smoke 0", in_seconds_).text, "smoke 0");
  EXPECT_FALSE(read("# 5 drops of oil", stamps).at) << "times of this log are no bare numbers";
  EXPECT_FALSE(read("# 5 drops of oil", {}).at) << "no layout yet";
}

}  // namespace
}  // namespace stilling
