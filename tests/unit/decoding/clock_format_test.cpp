// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#include "stilling/decoding/clock_format.hpp"

#include <gtest/gtest.h>

namespace stilling {
namespace {

std::optional<std::int64_t> wall(std::string_view text, std::string_view format) {
  const auto s = read_stamp(text, format);
  if (!s || s->length != text.size()) return std::nullopt;
  return wall_seconds(s->shows);
}

constexpr std::int64_t noon = 1'772'884'780;  // 2026-03-07 11:59:40

static_assert(is_clock_format("%d.%m.%Y %H:%M:%S") && is_clock_format("%F %T"));
static_assert(!is_clock_format("%d.%m.%Y") && !is_clock_format("%H:%Q") && !is_clock_format("%"));

TEST(clock_format, reads_what_strftime_writes) {
  EXPECT_EQ(wall("07.03.2026 11:59:40", "%d.%m.%Y %H:%M:%S"), noon);
  EXPECT_EQ(wall("03/07/26 11:59:40", "%D %T"), noon);
  EXPECT_EQ(wall("2026-03-07 11:59:40 AM", "%F %I:%M:%S %p"), noon);
  EXPECT_EQ(wall("Sat Mar  7 11:59:40 2026", "%a %b %e %H:%M:%S %Y"), noon);
  EXPECT_EQ(wall("2026 066 11:59:40", "%Y %j %T"), noon);
  EXPECT_EQ(wall("20260307115940", "%Y%m%d%H%M%S"), noon);
  EXPECT_EQ(wall("2026-03-07T11:59:40+0100", "%FT%T%z"), noon);
  EXPECT_EQ(wall("11h59m40 07-03-26", "%Hh%Mm%S %d-%m-%y"), noon);
}

TEST(clock_format, takes_a_fraction_behind_the_seconds) {
  EXPECT_EQ(read_stamp("11:59:40.25", "%T")->shows.nanosecond, 250'000'000U);
  EXPECT_EQ(read_stamp("11:59:40,25", "%H:%M:%S")->shows.nanosecond, 250'000'000U);
  EXPECT_EQ(read_stamp("11:59:40.25 x", "%H:%M:%S.%f x")->shows.nanosecond, 250'000'000U);
}

TEST(clock_format, refuses_what_does_not_fit) {
  EXPECT_FALSE(wall("07.03.2026", "%d.%m.%Y %H:%M"));
  EXPECT_FALSE(wall("13:00 PM", "%I:%M %p"));
  EXPECT_FALSE(wall("11:59", "%I:%M %p")) << "the half is missing";
  EXPECT_FALSE(wall("2026 366 00:00", "%Y %j %R")) << "no leap year";
  EXPECT_FALSE(wall("x", "%Q"));
}

}  // namespace
}  // namespace stilling
