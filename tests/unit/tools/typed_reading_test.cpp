// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#include "typed_reading.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <tuple>

#include "typed.hpp"

namespace stilling::command {
namespace {

const double last_digit = 1 / std::sqrt(12.0);  // JCGM 100 F.2.2.1

TEST(typed_reading, number_uncertainty_unit) {
  const auto plain = read_estimate("5.0 %");
  EXPECT_EQ(plain.value, 5.0);
  EXPECT_DOUBLE_EQ(plain.standard_uncertainty, 0.1 * last_digit);
  EXPECT_EQ(plain.unit, "%");
  for (const auto* text : {"5.0±0.2%", "5.0+-0.2%", "5.0 +/- 0.2 %", "5.0 % ± 0.2 %"}) {
    const auto x = read_estimate(text);
    EXPECT_EQ(x.value, 5.0) << text;
    EXPECT_DOUBLE_EQ(x.standard_uncertainty, 0.1) << text;  // k = 2
    EXPECT_EQ(x.unit, "%") << text;
  }
  for (const auto* text : {"", "±0.2", "5±", "5±-1", "5%±2ppm", "five", "5+-0.2+-0.1"}) {
    const auto refused = [&] {
      try {
        const auto x = read_estimate(text);
        return !x.unit.empty();  // what is left over is no unit of anything
      } catch (const refusal&) {
        return true;
      }
    };
    EXPECT_TRUE(refused()) << text;
  }
}

TEST(typed_reading, canonical_value_and_the_unit_it_was_typed_in) {
  const auto stack = read_reading(channel::stack_temp, "480±4degF");
  EXPECT_NEAR(stack.value.value, 522.0389, 1e-4);
  EXPECT_NEAR(stack.value.standard_uncertainty, 2 / 1.8, 1e-12);
  EXPECT_EQ(stack.in, unit::fahrenheit);
  EXPECT_EQ(read_reading(channel::o2, "5").value.value, 0.05);
  EXPECT_EQ(read_reading(channel::co, "20").in, unit::ppm);
  EXPECT_EQ(read_reading(channel::draft_breech, "-10Pa").value.value, -10);
  EXPECT_THROW((void)read_reading(channel::stack_temp, "480"), refusal);
  EXPECT_THROW((void)read_reading(channel::draft_breech, "-0.04"), refusal);
  EXPECT_THROW((void)read_reading(channel::o2, "5degF"), refusal);
  EXPECT_THROW((void)read_reading(channel::o2, "120"), refusal);
  EXPECT_EQ(read_reading(channel::o2, "-1").value.value, -0.01);  // nonsense, but a reading
}

TEST(typed_reading, ranges) {
  EXPECT_FALSE(read_range(channel::o2, "5.0"));
  const auto o2 = read_range(channel::o2, "3..9:0.5");
  ASSERT_TRUE(o2);
  EXPECT_EQ((std::tuple{o2->first, o2->last, o2->step}), (std::tuple{3.0, 9.0, 0.5}));
  const auto stack = read_range(channel::stack_temp, "350..650degF");
  ASSERT_TRUE(stack);
  EXPECT_EQ(stack->step, 50);
  EXPECT_EQ(stack->in, unit::fahrenheit);
  EXPECT_EQ(read_range(channel::stack_temp, "150..300:10degC")->in, unit::celsius);
  EXPECT_THROW((void)read_range(channel::stack_temp, "350..650"), refusal);
  EXPECT_THROW((void)read_range(channel::o2, "9..3"), refusal);
  EXPECT_THROW((void)read_range(channel::o2, "3..9:0"), refusal);
  EXPECT_THROW((void)read_range(channel::o2, "..9"), refusal);
}

TEST(typed_reading, error_of_an_instrument) {
  const auto co = read_instrument_error(channel::co, "10 ppm or 5 % of reading");
  EXPECT_DOUBLE_EQ(co.at(100e-6), 10e-6);
  EXPECT_DOUBLE_EQ(co.at(400e-6), 20e-6);
  const auto stack = read_instrument_error(channel::stack_temp, "2 degC or 1 % of reading");
  EXPECT_NEAR(stack.at(273.15 + 300), 3, 1e-9);
  EXPECT_NEAR(read_instrument_error(channel::stack_temp, "3.6 degF").at(500), 2, 1e-12);
  EXPECT_THROW((void)read_instrument_error(channel::stack_temp, "1 % of reading"), refusal);
  EXPECT_THROW((void)read_instrument_error(channel::o2, "0.2"), refusal);
  EXPECT_THROW((void)read_instrument_error(channel::o2, "150 % of reading"), refusal);
}

TEST(typed_reading, height_humidity_altitude) {
  EXPECT_NEAR(read_height("30ft").value, 9.144, 1e-12);
  EXPECT_THROW((void)read_height("30"), refusal);
  EXPECT_EQ(read_humidity("40%").value, 0.4);
  EXPECT_EQ(read_humidity("0.4").value, 0.4);
  EXPECT_THROW((void)read_humidity("40"), refusal);
  // US Standard Atmosphere 1976: 89 874.6 Pa at 1000 m
  EXPECT_NEAR(read_altitude("1000 m").value, 89874.6, 1);
  EXPECT_THROW((void)read_altitude("1000"), refusal);
  EXPECT_THROW((void)read_outdoor_temperature("20"), refusal);
  EXPECT_NEAR(read_outdoor_temperature("-5degC").value, 268.15, 1e-9);
}

}  // namespace
}  // namespace stilling::command
