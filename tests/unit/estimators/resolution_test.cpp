// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT

#include "stilling/estimators/resolution.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <initializer_list>
#include <type_traits>

#include "support/flue.hpp"

namespace stilling {
namespace {

static_assert(std::is_trivially_copyable_v<resolution>);
static_assert(resolution{}.step() == 0, "nothing tells yet");

constexpr resolution of(std::initializer_list<double> values, double written = 0) {
  resolution r;
  for (const double x : values) r.update(x, written);
  return r;
}
static_assert(of({5}).step() == 0);
static_assert(of({5, 6, 5, 6, 7, 6, 5}).step() == 1);

TEST(resolution, is_the_smallest_change_there_is) {
  EXPECT_DOUBLE_EQ(of({10, 14, 10, 11, 13}).step(), 1);
  EXPECT_DOUBLE_EQ(of({20, 20.5, 21, 20.5, 20, 20.5}).step(), 0.5);
}

TEST(resolution, shows_in_changes_of_changes_too) {
  EXPECT_DOUBLE_EQ(of({0, 2, 5, 7, 10, 12}).step(), 1) << "by two, then by three: a step of one";
}

TEST(resolution, is_the_last_place_written_while_nothing_moves) {
  EXPECT_DOUBLE_EQ(of({5.0, 5.0, 5.0}, 0.1).step(), 0.1);
  EXPECT_EQ(of({5.0, 5.0, 5.0}).step(), 0) << "unknown, not a guess";
}

// A flue that leaves a level which stood still has shown nothing about the display.
TEST(resolution, is_not_learnt_from_one_jump) {
  EXPECT_EQ(of({20, 20, 20, 60, 60, 60, 60}).step(), 0);
  EXPECT_EQ(of({20, 20, 20, 60, 60, 60, 60}, 1).step(), 1);
}

TEST(resolution, is_the_steps_of_a_display_and_not_the_places_it_is_written_with) {
  EXPECT_DOUBLE_EQ(of({430, 431, 430, 432, 431}, 0.1).step(), 1);
}

// A display of whole degF, in kelvin, where the binary differences are all a little different.
TEST(resolution, is_not_confused_by_binary_rounding) {
  invented::noise draw{2};
  resolution r;
  for (int i = 0; i < 5000; ++i)
    r.update((std::round(470 + 4 * draw()) + 459.67) / 1.8);
  EXPECT_NEAR(r.step(), 1 / 1.8, 1e-9);
}

// The same log, converted by a spreadsheet and written with six or three decimals.
TEST(resolution, is_not_confused_by_the_places_a_conversion_was_written_with) {
  for (const double places : {1e-6, 1e-3}) {
    invented::noise draw{2};
    resolution r;
    for (int i = 0; i < 5000; ++i) {
      const double kelvins = (std::round(470 + 4 * draw()) + 459.67) / 1.8;
      r.update(std::round(kelvins / places) * places, places);
    }
    EXPECT_NEAR(r.step(), 1 / 1.8, 2.01 * places) << places;
  }
}

TEST(resolution, of_undisplayed_noise_is_next_to_nothing) {
  invented::noise draw{2};
  resolution r;
  for (int i = 0; i < 1000; ++i) r.update(520 + draw());
  EXPECT_LT(r.step(), 0.01);
}

TEST(resolution, can_be_found_in_one_pass_over_a_slow_ramp) {
  resolution r;
  for (int i = 0; i < 600; ++i) r.update(std::round(400 + 0.02 * i));
  EXPECT_DOUBLE_EQ(r.step(), 1);
}

}  // namespace
}  // namespace stilling
