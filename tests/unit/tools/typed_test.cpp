// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#include "typed.hpp"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <cmath>
#include <string>
#include <string_view>

namespace stilling::command {
namespace {

/// What is said against a text; empty where it is taken.
template <class Read> std::string complaint(Read read) {
  try {
    read();
  } catch (const refusal& why) {
    return why.what();
  }
  return {};
}

TEST(typed, quantity_is_a_number_its_last_digit_and_a_unit) {
  const auto q = read_quantity("29.92 inHg");
  EXPECT_DOUBLE_EQ(q.value, 29.92);
  EXPECT_DOUBLE_EQ(q.step, 0.01);
  EXPECT_EQ(q.unit, "inHg");
  EXPECT_EQ(read_quantity("-3").value, -3);
  for (const auto* text : {"", "x", "inf", "nan", "-inf", "degF"})
    EXPECT_FALSE(complaint([&] { static_cast<void>(read_quantity(text)); }).empty()) << text;
}

TEST(typed, air_temperature_is_known_to_its_last_digit) {
  const auto e = read_air_temperature("70degF");
  EXPECT_NEAR(e.value, (70 + 459.67) / 1.8, 1e-9);
  // Rectangular, half a step either way (JCGM 100, 4.3.7).
  EXPECT_NEAR(e.standard_uncertainty, 1 / 1.8 / std::sqrt(12.0), 1e-12);
  EXPECT_THAT(complaint([] { static_cast<void>(read_air_temperature("70")); }),
              testing::HasSubstr("70degF"));
  EXPECT_FALSE(complaint([] { static_cast<void>(read_air_temperature("900degF")); }).empty());
}

TEST(typed, barometer) {
  // 29.92 inHg is the standard atmosphere to four digits: 1013.25 hPa (ISO 2533).
  EXPECT_NEAR(read_barometer("29.92inHg").value, 101325, 10);
  EXPECT_EQ(read_barometer("1013 hPa").value, 101300);
  EXPECT_THAT(complaint([] { static_cast<void>(read_barometer("12hPa")); }),
              testing::HasSubstr("absolute pressure"));
}

TEST(typed, times) {
  EXPECT_EQ(read_time("9s"), seconds(9));
  EXPECT_EQ(read_time("9"), seconds(9));
  EXPECT_EQ(read_time("0.5 min"), seconds(30));
  EXPECT_EQ(read_time("500ms"), milliseconds(500));
  EXPECT_EQ(read_time("0"), duration{});
  EXPECT_EQ(read_time("24 h"), seconds(86'400));
  for (const auto* text : {"-1s", "9 days", "soon", "1e30"})
    EXPECT_FALSE(complaint([&] { static_cast<void>(read_time(text)); }).empty()) << text;
  for (const auto* text : {"0s", "-3s"})
    EXPECT_EQ(complaint([&] { static_cast<void>(read_interval(text)); }), "must be above 0");
}

TEST(typed, tolerances_keep_the_unit_they_are_said_in) {
  const auto t = read_tolerance(channel::stack_temp, "5 degF");
  EXPECT_EQ(t, (tolerance{variation::range, unit::fahrenheit, 5, 0}));
  const auto either = read_tolerance(channel::co, "1 ppm or 2 % of mean");
  EXPECT_EQ(either, (tolerance{variation::range, unit::ppm, 1, 0.02}));
  EXPECT_EQ(read_tolerance(channel::co, "2 % of mean or 1 ppm"), either);
  EXPECT_EQ(read_tolerance(channel::o2, "0.5 %").absolute, 0.5) << "of oxygen, not of a mean";
  const auto against = [](channel c, std::string_view text) {
    return complaint([&] { static_cast<void>(read_tolerance(c, text)); });
  };
  EXPECT_THAT(against(channel::co, "5"), testing::HasSubstr("1 ppm or 2 % of mean"));
  EXPECT_THAT(against(channel::draft_breech, "5 ppm"), testing::HasSubstr("0.005 inH2O"));
  for (const auto* text : {"", " or ", "5 degF or", "or 5 degF", "of mean", "x of mean"})
    EXPECT_FALSE(against(channel::stack_temp, text).empty()) << text;
}

TEST(typed, rates_are_differences_per_second) {
  // A point on the scale would have 32 degF taken off.
  EXPECT_NEAR(read_rate(channel::stack_temp, "3 degF/min"), 3 / 1.8 / 60, 1e-15);
  EXPECT_NEAR(read_rate(channel::stack_temp, "3 degF/min"),
              read_rate(channel::stack_temp, "100 K/h"), 1e-12);
  EXPECT_NEAR(read_rate(channel::o2, "0.1 pct/min"), 0.001 / 60, 1e-15);
  EXPECT_NEAR(read_rate(channel::co, "5 ppm/min"), 5e-6 / 60, 1e-18);
  EXPECT_NEAR(read_rate(channel::draft_breech, "0.005 inH2O/min"), 0.005 * 249.08891 / 60, 1e-12);
  for (const auto* text : {"3", "3 degF", "3 /min", "3 pct/min", "3 degF/day", "0 K/min", "-1 K/s"})
    EXPECT_FALSE(
        complaint([&] { static_cast<void>(read_rate(channel::stack_temp, text)); }).empty())
        << text;
}

TEST(typed, shares_fractions_and_differences) {
  EXPECT_DOUBLE_EQ(read_share("0.95"), 0.95);
  EXPECT_DOUBLE_EQ(read_share("95 %"), 0.95);
  EXPECT_DOUBLE_EQ(read_fraction("17.5 pct"), 0.175);
  EXPECT_DOUBLE_EQ(read_warmer("45 degF"), 25);
  EXPECT_FALSE(complaint([] { static_cast<void>(read_fraction("17.5")); }).empty());
  EXPECT_FALSE(complaint([] { static_cast<void>(read_warmer("-45 degF")); }).empty());
}

TEST(typed, shares_written_in_percent_are_the_same_number) {
  // check(session_settings) compares the confidence with ==.
  EXPECT_EQ(read_share("95 %"), 0.95);
  EXPECT_EQ(read_share("97.5 %"), 0.975);
  EXPECT_EQ(read_share("99 %"), 0.99);
}

TEST(typed, nearest_is_near_or_none) {
  const std::vector<std::string_view> known{"fuel", "method", "time_zone", "time_format"};
  EXPECT_EQ(nearest("fule", known), "fuel");
  EXPECT_EQ(nearest("FUEL", known), "fuel");
  EXPECT_EQ(nearest("timezone", known), "time_zone");
  EXPECT_EQ(nearest("x", known), "");
  EXPECT_EQ(nearest("", known), "");
  EXPECT_EQ(nearest("burner", known), "");
}

}  // namespace
}  // namespace stilling::command
