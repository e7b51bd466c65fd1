// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT

#include "stilling/terms/units.hpp"

#include <gtest/gtest.h>

#include <type_traits>

namespace stilling {
namespace {

template <class A, class B>
concept can_be_added = requires(A a, B b) { a + b; };
template <class A, class B>
concept can_be_compared = requires(A a, B b) { a < b; };

static_assert(!std::is_default_constructible_v<temperature>, "no temperature is no 0 K");
static_assert(!std::is_convertible_v<double, temperature>);
static_assert(!std::is_constructible_v<temperature, double>);
static_assert(!std::is_constructible_v<volume_fraction, double>);
static_assert(!std::is_convertible_v<temperature, double>);
static_assert(!can_be_added<temperature, temperature>, "two points have no sum");
static_assert(can_be_added<temperature, temperature_difference>);
static_assert(!can_be_compared<temperature, temperature_difference>);
static_assert(!can_be_compared<volume_fraction, pressure_difference>);
static_assert(std::is_same_v<decltype(temperature::from_kelvins(2) - temperature::from_kelvins(1)),
                             temperature_difference>);
static_assert(std::is_trivially_copyable_v<temperature> && sizeof(temperature) == sizeof(double));
static_assert(temperature::from_celsius(0) == temperature::from_kelvins(273.15));

constexpr double near = 1e-9;

// Fixed points of the scales: exact by the definition of the degree Celsius (SI brochure, 9th ed.,
// 2.3.1) and of the degree Fahrenheit (NIST SP 811, B.8).
TEST(temperature, scales_meet_at_their_fixed_points) {
  EXPECT_NEAR(temperature::from_fahrenheit(32).in_celsius(), 0, near);
  EXPECT_NEAR(temperature::from_fahrenheit(212).in_celsius(), 100, near);
  EXPECT_NEAR(temperature::from_celsius(-40).in_fahrenheit(), -40, near);
  EXPECT_NEAR(temperature::from_fahrenheit(-459.67).in_kelvins(), 0, near);
}

TEST(temperature, only_a_point_is_shifted_by_32) {
  const auto warmer =
      temperature::from_fahrenheit(470) - temperature::from_fahrenheit(70);
  EXPECT_NEAR(warmer.in_fahrenheit(), 400, near);
  EXPECT_NEAR(warmer.in_kelvins(), 400 / 1.8, near);
  EXPECT_NEAR(temperature_difference::from_fahrenheit(32).in_kelvins(), 32 / 1.8, near);
  EXPECT_NEAR((temperature::from_celsius(20) + warmer - warmer).in_celsius(), 20, near);
}

// 10 CFR 430 Subpart B App. O 3.1.2 (2015 ed.): 5 degF is printed as 2.8 degC, 3 degF as 1.7 degC.
TEST(temperature_difference, a_limit_in_fahrenheit_is_not_its_rounded_print) {
  EXPECT_NEAR(temperature_difference::from_fahrenheit(5).in_kelvins(), 2.7778, 5e-5);
  EXPECT_NEAR(temperature_difference::from_fahrenheit(3).in_kelvins(), 1.6667, 5e-5);
  EXPECT_GT(temperature_difference::from_kelvins(2.79).in_fahrenheit(), 5);
}

TEST(temperature_difference, is_a_quantity_one_can_calculate_with) {
  const auto d = temperature_difference::from_kelvins(6);
  EXPECT_EQ((d - temperature_difference::from_kelvins(2)).in_kelvins(), 4);
  EXPECT_EQ((0.5 * d + d).in_kelvins(), 9);
  EXPECT_EQ(d / temperature_difference::from_kelvins(2), 3);
  EXPECT_LT(temperature_difference{}, d);
}

// 3 degF/min, the field threshold (common practice, no source), is 1.6667 K/min.
TEST(temperature_rate, three_fahrenheit_a_minute) {
  const auto r = temperature_rate::from_fahrenheit_per_minute(3);
  EXPECT_NEAR(r.in_kelvins_per_second() * 60, 1.6667, 5e-5);
  EXPECT_NEAR(r.in_fahrenheit_per_minute(), 3, near);
  EXPECT_EQ(temperature_rate::from_kelvins_per_second(2).in_kelvins_per_second(), 2);
}

TEST(volume_fraction, percent_and_ppm_are_the_same_quantity) {
  EXPECT_NEAR(volume_fraction::from_percent(0.01).in_ppm(), 100, near);
  EXPECT_NEAR(volume_fraction::from_ppm(400).in_percent(), 0.04, near);
  EXPECT_EQ(volume_fraction::from_fraction(0.209).in_fraction(), 0.209);
}

// Conventional inch and millimetre of water: 1000 kg/m3 and g = 9.80665 m/s2 (NIST SP 811, B.8).
TEST(pressure_difference, suction_is_negative_in_every_unit) {
  EXPECT_NEAR(pressure_difference::from_inches_of_water(-0.02).in_pascals(), -4.98178, 1e-5);
  EXPECT_NEAR(pressure_difference::from_pascals(-249.08891).in_inches_of_water(), -1, near);
  EXPECT_NEAR(pascals_per_inch_of_water, 25.4 * pascals_per_millimetre_of_water, 1e-5);
  const auto drop = pressure_difference::from_pascals(-5) - pressure_difference::from_pascals(-15);
  EXPECT_EQ(drop.in_pascals(), 10);
}

}  // namespace
}  // namespace stilling
