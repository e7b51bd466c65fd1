// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#include "stilling/combustion/water.hpp"

#include <gtest/gtest.h>

#include <cmath>

namespace stilling {
namespace {

static_assert(water::saturation_pressure(373.15) > 101325);  // 100 degC is not quite the boil

// IAPWS R7-97(2012), Tables 35 and 36: the release's own check values
TEST(water, check_values_of_the_release) {
  EXPECT_NEAR(water::saturation_pressure(300.0) / 1e6, 0.353658941e-2, 5e-12);
  EXPECT_NEAR(water::saturation_pressure(500.0) / 1e6, 0.263889776e1, 5e-9);
  EXPECT_NEAR(water::saturation_pressure(600.0) / 1e6, 0.123443146e2, 5e-8);
  EXPECT_NEAR(water::saturation_temperature(0.1e6), 0.372755919e3, 5e-7);
  EXPECT_NEAR(water::saturation_temperature(1e6), 0.453035632e3, 5e-7);
  EXPECT_NEAR(water::saturation_temperature(10e6), 0.584149488e3, 5e-7);
}

TEST(water, saturation_pressure) {
  const double celsius[]{5, 10, 20, 25, 30, 40, 50, 60, 100};
  // IAPWS-IF97 region 4, recomputed, kPa
  const double kpa[]{0.87257, 1.22818, 2.33921, 3.16975, 4.24669,
                     7.38443, 12.35127, 19.94580, 101.41798};
  for (int i = 0; i < 9; ++i) {
    EXPECT_NEAR(water::saturation_pressure(celsius[i] + 273.15) / 1e3, kpa[i], 1e-5) << celsius[i];
  }
  // ASHRAE Fundamentals 2017 ch. 1 Table 3, quoted by a test suite: Pa
  EXPECT_NEAR(water::saturation_pressure(278.15), 872.6, 0.1);
  EXPECT_NEAR(water::saturation_pressure(298.15), 3169.7, 0.1);
  EXPECT_NEAR(water::saturation_pressure(323.15), 12351.3, 0.1);
  EXPECT_NEAR(water::saturation_pressure(373.15), 101418, 1);
}

TEST(water, temperature_and_pressure_are_inverse) {
  for (double t = 273.16; t < 640; t += 7.3) {
    EXPECT_NEAR(water::saturation_temperature(water::saturation_pressure(t)), t, 1e-6);
  }
}

TEST(water, dew_point_takes_the_uncertainty_of_the_pressure) {
  const uncertain p{estimate{12000, 100}, input::barometer};
  const auto t = water::saturation_temperature(p);
  const double slope = (water::saturation_temperature(12001.0) -
                        water::saturation_temperature(11999.0)) / 2;
  EXPECT_NEAR(t.standard_uncertainty(), 100 * slope, 1e-5);
}

// Clapeyron: L = T (dp/dT) (v'' - v'), v'' - v' 43.340 m3/kg at 25 degC (steam tables, from
// memory), against IAPWS-IF97 2441.71 kJ/kg
TEST(water, slope_of_the_curve_agrees_with_the_latent_heat) {
  const double slope =
      (water::saturation_pressure(298.16) - water::saturation_pressure(298.14)) / 0.02;
  EXPECT_NEAR(298.15 * slope * 43.340 / 2441.71e3, 1, 0.002);
}

}  // namespace
}  // namespace stilling
