// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT

#include "stilling/terms/time.hpp"

#include <gtest/gtest.h>

#include <limits>
#include <type_traits>

namespace stilling {
namespace {

template <class Clock>
concept tells_the_time = requires { Clock::now(); };

static_assert(!tells_the_time<session_clock>, "time comes in with the stream, never from a clock");
static_assert(std::is_trivially_copyable_v<instant> && sizeof(instant) == 8);
static_assert(!session_clock::is_steady);
static_assert(seconds(3) == milliseconds(3000));
static_assert(in_seconds(seconds(-90)) == -90);
static_assert(in_seconds(milliseconds(100)) == 0.1);
static_assert(duration_from_seconds(0.1) == milliseconds(100));

TEST(time, a_stamp_of_the_unix_epoch_is_exact_to_the_nanosecond) {
  const instant noon{seconds(1'700'000'000) + duration{1}};
  EXPECT_EQ((noon - instant{seconds(1'700'000'000)}).count(), 1);
}

TEST(time, a_constant_added_to_both_ends_changes_no_difference) {
  const duration shift = seconds(1'700'000'000) + duration{123'456'789};
  for (std::int64_t tenths = 0; tenths < 1000; ++tenths) {
    const instant from{milliseconds(100 * tenths)}, to{milliseconds(300 * tenths + 7)};
    EXPECT_EQ(in_seconds((to + shift) - (from + shift)), in_seconds(to - from));
  }
}

TEST(time, seconds_are_rounded_to_the_nearest_nanosecond) {
  EXPECT_EQ(duration_from_seconds(0.1234567894)->count(), 123'456'789);
  EXPECT_EQ(duration_from_seconds(0.1234567896)->count(), 123'456'790);
  EXPECT_EQ(duration_from_seconds(-0.1234567896)->count(), -123'456'790);
}

TEST(time, a_number_that_fits_no_stamp_is_refused_before_it_is_cast) {
  EXPECT_FALSE(duration_from_seconds(5e20));
  EXPECT_FALSE(duration_from_seconds(-5e20));
  EXPECT_FALSE(duration_from_seconds(std::numeric_limits<double>::infinity()));
  EXPECT_FALSE(duration_from_seconds(std::numeric_limits<double>::quiet_NaN()));
  EXPECT_TRUE(duration_from_seconds(9.1e9)) << "the year 2258 still fits";
}

}  // namespace
}  // namespace stilling
