// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#include "rule_words.hpp"

#include <gtest/gtest.h>

namespace stilling::command {
namespace {

reading_rule series(std::uint32_t readings, duration apart) {
  reading_rule r;
  r.readings = readings;
  r.set_apart(apart);
  return r;
}

TEST(rule_words, are_made_of_the_numbers) {
  auto r = series(3, seconds(900));
  r.allowed.set(channel::stack_temp, {variation::range, unit::fahrenheit, 5, 0});
  EXPECT_EQ(in_words(r, {channel::stack_temp}),
            "3 readings of stack_temp, 15 min apart: the lowest and the highest differ by at most "
            "5 degF");
  r.allowed.set(channel::co, {variation::successive, unit::ppm, 1, 0.02});
  r.mean = seconds(30);
  r.waiting = seconds(90);
  EXPECT_EQ(in_words(r, {channel::stack_temp, channel::co}),
            "3 readings of stack_temp and co, each a mean over 30 s, 15 min apart, 90 s after the "
            "fire was seen: the lowest and the highest of stack_temp differ by at most 5 degF and "
            "no two neighbours of co differ by more than the larger of 1 ppm and 2 % of their "
            "mean");
}

TEST(rule_words, of_uneven_distances_tell_the_times) {
  auto r = series(4, seconds(1));
  r.apart = {seconds(120), seconds(180), seconds(600)};
  r.allowed.set(channel::co, {variation::from_mean, unit::ppm, 0, 0.05});
  EXPECT_EQ(in_words(r, {channel::co}),
            "4 readings of co, at 0, 2, 5 and 15 min: none is farther from their mean than 5 % of "
            "their mean");
  r.apart[0] = seconds(90);
  EXPECT_NE(in_words(r, {channel::co}).find("at 0, 90, 270 and 870 s"), std::string::npos);
}

TEST(rule_words, of_one_mean) {
  reading_rule r;
  r.readings = 1;
  r.mean = seconds(30);
  r.waiting = seconds(120);
  EXPECT_EQ(in_words(r, {channel::stack_temp, channel::o2}),
            "one mean of stack_temp and o2 over 30 s, 2 min after the fire was seen");
  r.needs_fire = false;
  EXPECT_EQ(in_words(r, {channel::o2}), "one mean of o2 over 30 s, 2 min after the first row");
}

}  // namespace
}  // namespace stilling::command
