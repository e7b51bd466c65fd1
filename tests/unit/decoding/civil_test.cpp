// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#include "stilling/decoding/civil.hpp"

#include <gtest/gtest.h>

namespace stilling {
namespace {

constexpr civil at(std::int32_t year, std::uint32_t month, std::uint32_t day, std::uint32_t hour,
                   std::uint32_t minute = 0, std::uint32_t second = 0) {
  civil c;
  c.year = year;
  c.month = month;
  c.day = day;
  c.hour = hour;
  c.minute = minute;
  c.second = second;
  return c;
}
constexpr civil with(civil c, civil::half h) {
  c.part = h;
  return c;
}

static_assert(wall_seconds(at(1970, 1, 1, 0)) == 0);
static_assert(wall_seconds(at(1969, 12, 31, 23, 59, 59)) == -1);
static_assert(!wall_seconds(at(2026, 2, 29, 0)) && wall_seconds(at(2024, 2, 29, 0)));

TEST(civil, counts_as_unix_does) {
  // POSIX.1-2017, Base Definitions 4.16: seconds since the Epoch by its formula.
  EXPECT_EQ(wall_seconds(at(2001, 9, 9, 1, 46, 40)), 1'000'000'000);
  EXPECT_EQ(wall_seconds(at(2038, 1, 19, 3, 14, 7)), 2'147'483'647);
}

TEST(civil, knows_midnight_from_noon) {
  const auto day = *wall_seconds(at(2026, 3, 7, 0));
  EXPECT_EQ(wall_seconds(with(at(2026, 3, 7, 12), civil::half::am)), day);
  EXPECT_EQ(wall_seconds(with(at(2026, 3, 7, 12), civil::half::pm)), day + 12 * 3600);
  EXPECT_EQ(wall_seconds(with(at(2026, 3, 7, 1), civil::half::pm)), day + 13 * 3600);
  EXPECT_FALSE(wall_seconds(with(at(2026, 3, 7, 13), civil::half::pm)));
  EXPECT_FALSE(wall_seconds(with(at(2026, 3, 7, 0), civil::half::am)));
}

TEST(civil, refuses_hours_that_are_none) {
  EXPECT_EQ(wall_seconds(at(2026, 3, 7, 24)), wall_seconds(at(2026, 3, 8, 0)));
  EXPECT_FALSE(wall_seconds(at(2026, 3, 7, 24, 1)));
  EXPECT_FALSE(wall_seconds(at(2026, 3, 7, 25)));
  EXPECT_FALSE(wall_seconds(at(2026, 3, 7, 1, 60)));
  EXPECT_TRUE(wall_seconds(at(2016, 12, 31, 23, 59, 60))) << "a leap second";
  EXPECT_FALSE(wall_seconds(at(2026, 13, 1, 0)));
  EXPECT_FALSE(wall_seconds(at(2026, 0, 1, 0)));
}

TEST(instant_of, keeps_within_what_differences_can_hold) {
  EXPECT_EQ(instant_of(1, 5), instant{duration{1'000'000'005}});
  EXPECT_EQ(instant_of(-1, 5), instant{duration{-999'999'995}});
  EXPECT_TRUE(instant_of(4'611'686'017, 0));
  EXPECT_FALSE(instant_of(4'611'686'018, 0));
  EXPECT_FALSE(instant_of(-4'611'686'018, 0));
}

}  // namespace
}  // namespace stilling
