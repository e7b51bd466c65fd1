// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#include "stilling/combustion/air.hpp"

#include <gtest/gtest.h>

namespace stilling {
namespace {

static_assert(air::moisture(0.0, 293.15, 101325.0) == 0);
static_assert(air::oxygen + air::nitrogen + air::argon > 0.99999999);

TEST(air, moisture_at_saturation) {
  // ASHRAE Fundamentals 2017 ch. 1 Table 2, quoted: humidity ratio kg/kg at 101325 Pa. The ideal
  // mixture leaves out the enhancement factor: 0.7 %.
  const double ratio = 0.621945;
  EXPECT_NEAR(ratio * air::moisture(1.0, 278.15, 101325.0) / 0.005425, 1, 0.007);
  EXPECT_NEAR(ratio * air::moisture(1.0, 298.15, 101325.0) / 0.020173, 1, 0.007);
  EXPECT_NEAR(ratio * air::moisture(1.0, 323.15, 101325.0) / 0.086863, 1, 0.007);
  // recomputed, ideal mixture
  EXPECT_NEAR(ratio * air::moisture(1.0, 278.15, 101325.0), 0.005402, 1e-6);
  EXPECT_NEAR(ratio * air::moisture(1.0, 298.15, 101325.0), 0.020085, 1e-6);
  EXPECT_NEAR(ratio * air::moisture(1.0, 323.15, 101325.0), 0.086338, 1e-6);
}

TEST(air, mole_fraction_of_the_law_examples) {
  // 40 CFR 1065.645(c) (2015 ed.): RH 50.77 %, 20 degC, 99.980 kPa -> 0.011868 (Goff-Gratch there,
  // IF97 here: 0.1 %)
  const double per_dry = air::moisture(0.5077, 293.15, 99980.0);
  EXPECT_NEAR(per_dry / (1 + per_dry), 0.011868, 0.001 * 0.011868);
  // 40 CFR 1065.645(b) (2015 ed.): dew point 9.5 degC, 99.980 kPa -> 1.186581 kPa, 0.011868
  EXPECT_NEAR(water::saturation_pressure(282.65), 1186.581, 0.001 * 1186.581);
  EXPECT_NEAR(water::saturation_pressure(282.65) / 99980, 0.011868, 0.001 * 0.011868);
}

TEST(air, pressure_falls_with_altitude) {
  EXPECT_DOUBLE_EQ(air::pressure_at_altitude(0), 101325);
  // US Standard Atmosphere 1976, table, from memory: 1000 m 89875 Pa, 5000 m 54020 Pa
  EXPECT_NEAR(air::pressure_at_altitude(1000), 89875, 5);
  EXPECT_NEAR(air::pressure_at_altitude(5000), 54020, 5);
}

}  // namespace
}  // namespace stilling
