// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#include "stilling/decoding/stamp.hpp"

#include <gtest/gtest.h>

namespace stilling {
namespace {

/// Seconds on the wall, where the whole text is a stamp.
std::optional<std::int64_t> wall(std::string_view text) {
  const auto s = read_stamp(text);
  if (!s || s->length != text.size()) return std::nullopt;
  return wall_seconds(s->shows);
}

constexpr std::int64_t noon = 1'772'884'780;  // 2026-03-07 11:59:40

TEST(stamp, reads_iso_8601) {
  for (auto s :
       {"2026-03-07T11:59:40", "2026-03-07 11:59:40", "2026-03-07T11:59:40Z",
        "2026-03-07T11:59:40.000", "2026-03-07T11:59:40,5", "20260307T115940", "20260307T115940Z",
        "2026/03/07 11:59:40", "2026-3-7 11:59:40", "2026-03-07T11:59:40+01:00"})
    EXPECT_EQ(wall(s), noon) << s;
  EXPECT_EQ(wall("2026-03-07T11:59"), noon - 40);
  EXPECT_EQ(wall("2026-03-07"), noon - 43'180);
  EXPECT_EQ(read_stamp("2026-03-07T11:59:40.25")->shows.nanosecond, 250'000'000U);
  EXPECT_EQ(read_stamp("2026-03-07T11:59:40-05:00")->shows.offset, -18'000);
}

TEST(stamp, reads_iso_weeks_and_days_of_the_year) {
  // ISO 8601:2004, 4.1.3.2 and 4.1.4.2: 12 April 1985 is 1985102, 1985-102, 1985W155, 1985-W15-5.
  constexpr std::int64_t april = 482'112'000;
  for (auto s : {"1985102", "1985-102", "1985W155", "1985-W15-5", "1985-04-12", "19850412"})
    EXPECT_EQ(wall(s), april) << s;
  EXPECT_EQ(wall("1985W155T232050"), april + 84'050);
  EXPECT_EQ(wall("1985-W15-5T23:20:50"), april + 84'050);
  EXPECT_EQ(wall("1985-102 23:20"), april + 84'000);
  EXPECT_EQ(wall("2009-W01-1"), wall("2008-12-29"));
  EXPECT_EQ(wall("2009-W53-7"), wall("2010-01-03")) << "the same standard, 3.2.2";
  for (auto s :
       {"2010-W53-1", "2026-W00-1", "2026-W10-0", "2026-W10-8", "2026-W10", "2026-366", "2026-000"})
    EXPECT_FALSE(wall(s).has_value()) << s;
}

TEST(stamp, knows_a_date_that_is_two_days) {
  EXPECT_TRUE(is_two_days("03/04/2026 11:59"));
  EXPECT_FALSE(is_two_days("03/17/2026 11:59"));
  EXPECT_FALSE(is_two_days("30/30/2026 11:59"));
  EXPECT_FALSE(is_two_days("nonsense"));
  EXPECT_EQ(wall("03/17/2026 00:00"), wall("17-03-2026 00:00"));
}

TEST(stamp, reads_forms_that_leave_no_doubt) {
  for (auto s :
       {"07.03.2026 11:59:40", "7.3.2026 11:59:40", "07.03.26 11:59:40", "Mar 7 2026 11:59:40",
        "Mar  7, 2026 11:59:40", "7 Mar 2026 11:59:40", "07-Mar-2026 11:59:40",
        "Sat Mar  7 11:59:40 2026", "2026-03-07 11:59:40 AM", "7.3.2026, 11:59:40"})
    EXPECT_EQ(wall(s), noon) << s;
  EXPECT_EQ(wall("2026-03-07 12:00:00 PM"), noon + 20);
  EXPECT_TRUE(read_stamp("07.03.2026 11:59")->shows.day_first);
  EXPECT_FALSE(read_stamp("Dec 31 23:59:30")->shows.has_year);
  EXPECT_FALSE(read_stamp("23:59:30")->shows.has_date);
}

TEST(stamp, refuses_what_leaves_doubt_or_is_none) {
  for (auto s : {"03/07/2026 11:59:40", "3/7/26", "12", "", "noon", "2026-13-01 00:00",
                 "2026-02-30 00:00", "11:5", "30/30/2026 00:00", "2026-03-07T",
                 "2026-03-07 11:59:61", "2026-03-07 25:00", "2026-03-07 13:00 PM", "T=471F"})
    EXPECT_FALSE(wall(s).has_value()) << s;
}

TEST(stamp, takes_no_more_than_the_stamp) {
  EXPECT_EQ(read_stamp("2026-03-07 11:59:40 smoke trace")->length, 19U);
  EXPECT_EQ(read_stamp("11:59 smoke 1")->length, 5U);
}

}  // namespace
}  // namespace stilling
