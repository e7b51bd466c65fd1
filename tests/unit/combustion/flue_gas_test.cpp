// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#include "stilling/combustion/flue_gas.hpp"

#include <gtest/gtest.h>

#include "stilling/combustion/water.hpp"

namespace stilling {
namespace {

constexpr auto oil = elements_of(composition_of_formula(1, 1.80), 0.0);
constexpr auto gas = elements_of(composition_of_formula(1, 3.78, 0.016), 0.0);
constexpr auto methane = elements_of(composition_of_formula(1, 4), 0.0);
constexpr auto propane = elements_of(composition_of_formula(3, 8), 0.0);

static_assert(theoretical_air(elements_of(composition{.carbon = 1}, 0.0)) * air::oxygen ==
              1000 / 12.011);

flue_gas<double> at_excess(const elements<double>& e, double percent) {
  const double in = theoretical_air(e) * (1 + percent / 100);
  return flue_gas_of(e, in + growth(e), 0.0, 0.0);
}

TEST(flue_gas, co2_maximum_and_air_to_fuel) {
  // 40 CFR 1065.655 Table 1 (2015 ed.), composition; rest recomputed
  const auto lpg = elements_of(composition_of_formula(1, 2.64), 0.0);
  const auto oil_1 = elements_of(composition_of_formula(1, 1.93), 0.0);
  const struct {
    elements<double> e;
    double co2_max, air_to_fuel;
  } rows[]{{oil, 15.450, 14.503},  {oil_1, 15.162, 14.689},  {lpg, 13.764, 15.645},
           {gas, 12.033, 16.660},  {methane, 11.698, 17.239}, {propane, 13.717, 15.679}};
  for (const auto& r : rows) {
    EXPECT_NEAR(100 * co2_maximum(r.e), r.co2_max, 0.01);
    EXPECT_NEAR(theoretical_air(r.e) * molar_mass::dry_air / 1000, r.air_to_fuel, 0.01);
  }
}

TEST(flue_gas, excess_air_and_co2_from_oxygen) {
  // recomputed from the composition row: dry, complete, air 20.946 %
  const struct {
    elements<double> e;
    double o2, excess, co2;
  } rows[]{{oil, 3, 15.630, 13.237},     {oil, 5, 29.318, 11.762},     {oil, 8, 57.778, 9.549},
           {gas, 3, 15.023, 10.309},     {gas, 5, 28.179, 9.161},      {gas, 8, 55.534, 7.437},
           {methane, 3, 14.966, 10.023}, {methane, 5, 28.072, 8.906},  {methane, 8, 55.323, 7.230},
           {propane, 3, 15.316, 11.752}, {propane, 5, 28.729, 10.443}, {propane, 8, 56.618, 8.478}};
  for (const auto& r : rows) {
    const auto g = flue_gas_of(r.e, dry_gas_at_oxygen(r.e, r.o2 / 100, 0.0), 0.0, 0.0);
    EXPECT_NEAR(100 * (g.air / theoretical_air(r.e) - 1), r.excess, 0.01);
    EXPECT_NEAR(100 * g.co2 / g.dry, r.co2, 0.01);
    EXPECT_NEAR(100 * g.o2 / g.dry, r.o2, 1e-9);
  }
}

TEST(flue_gas, oxygen_from_excess_air_of_methane) {
  // DOE Steam Tip Sheet 4 (Jan 2006), quoted; O2 recomputed
  const double excess[]{9.5, 15.0, 28.1, 44.9, 81.6};
  const double printed[]{2.0, 3.0, 5.0, 7.0, 10.0};
  const double o2[]{2.0094, 3.0058, 5.0038, 6.9962, 9.9879};
  for (int i = 0; i < 5; ++i) {
    const auto g = at_excess(methane, excess[i]);
    EXPECT_NEAR(100 * g.o2 / g.dry, o2[i], 0.0005);
    EXPECT_NEAR(100 * g.o2 / g.dry, printed[i], 0.02);
  }
}

TEST(flue_gas, wet_gas_and_water_dew_point) {
  // recomputed from 40 CFR 1065.655 compositions; 101.325 kPa, dry air.
  // Goff-Gratch there, IF97 here.
  const struct {
    elements<double> e;
    double excess, co2, o2, h2o, dew;
  } rows[]{{oil, 0, 15.450, 0, 12.207, 50.05},      {oil, 20, 12.727, 3.691, 10.277, 46.62},
           {oil, 40, 10.821, 6.276, 8.874, 43.76},  {oil, 50, 10.067, 7.298, 8.307, 42.50},
           {oil, 100, 7.465, 10.825, 6.296, 37.30}, {gas, 0, 12.033, 0, 18.528, 58.72},
           {gas, 20, 9.842, 3.813, 15.685, 55.19},  {gas, 40, 8.327, 6.451, 13.597, 52.24},
           {gas, 50, 7.731, 7.488, 12.749, 50.93},  {gas, 100, 5.695, 11.032, 9.718, 45.53}};
  for (const auto& r : rows) {
    const auto g = at_excess(r.e, r.excess);
    EXPECT_NEAR(100 * g.co2 / g.dry, r.co2, 0.01);
    EXPECT_NEAR(100 * g.o2 / g.dry, r.o2, 0.01);
    EXPECT_NEAR(100 * g.moisture(), r.h2o, 0.01);
    EXPECT_NEAR(water::saturation_temperature(g.moisture() * 101325) - 273.15, r.dew, 0.1);
  }
}

// A training page mixes them up: methane, dry CO2 9.15, O2 4.0 -> 18.30 mol water per 100 mol dry
// are 15.469 % of the wet gas: 54.91 degC.
TEST(flue_gas, per_dry_gas_is_not_a_wet_fraction) {
  const double per_dry = 2 * 9.15 / 100;
  EXPECT_NEAR(per_dry / (1 + per_dry), 0.15469, 0.000005);
  EXPECT_NEAR(water::saturation_temperature(per_dry / (1 + per_dry) * 101325) - 273.15, 54.91, 0.1);
  const auto g = flue_gas_of(methane, dry_gas_at_carbon_dioxide(methane, 0.0915, 0.0), 0.0, 0.0);
  EXPECT_NEAR(g.h2o / g.dry, per_dry, 1e-12);
  EXPECT_NEAR(g.moisture(), 0.15469, 0.000005);
}

TEST(flue_gas, atoms_that_went_in_come_out) {
  const composition mixed{.carbon = 0.70, .hydrogen = 0.10, .oxygen = 0.08, .nitrogen = 0.01,
                          .sulphur = 0.02, .water = 0.07, .ash = 0.02};
  const auto e = elements_of(mixed, 0.0);
  const double co = 0.004;
  const auto g = flue_gas_of(e, dry_gas_at_oxygen(e, 0.06, co), co, 0.012);
  EXPECT_NEAR(g.co2 + g.co, e.carbon, 1e-9);
  EXPECT_NEAR(2 * g.h2o, e.hydrogen + 2 * e.water + 2 * 0.012 * g.air, 1e-9);
  EXPECT_NEAR(2 * g.n2, 2 * air::nitrogen * g.air + e.nitrogen, 1e-9);
  EXPECT_NEAR(2 * g.co2 + g.co + 2 * g.so2 + 2 * g.o2 + g.h2o,
              2 * air::oxygen * g.air + e.oxygen + e.water + 0.012 * g.air, 1e-9);
  EXPECT_NEAR(g.co2 + g.co + g.so2 + g.o2 + g.n2 + g.ar, g.dry, 1e-9);
  EXPECT_NEAR(g.o2 / g.dry, 0.06, 1e-12);
  EXPECT_NEAR(g.co / g.dry, co, 1e-12);
}

TEST(flue_gas, from_oxygen_and_from_carbon_dioxide_is_the_same_gas) {
  for (double co : {0.0, 0.003}) {
    const double dry = dry_gas_at_oxygen(oil, 0.05, co);
    const auto g = flue_gas_of(oil, dry, co, 0.0);
    EXPECT_NEAR(dry_gas_at_carbon_dioxide(oil, g.co2 / g.dry, co), dry, 1e-9);
  }
}

}  // namespace
}  // namespace stilling
