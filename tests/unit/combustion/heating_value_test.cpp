// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#include "stilling/combustion/heating_value.hpp"

#include <gtest/gtest.h>

#include "stilling/combustion/gas_mixture.hpp"

namespace stilling {
namespace {

// Active Thermochemical Tables 1.112, enthalpies of formation; reaction values recomputed
static_assert(heat_of_combustion_of_co == 393474 - 110525);
static_assert(latent_heat_of_water == 285825 - 241822);
static_assert(!estimated_heating_value(composition{.carbon = 1}));  // no hydrogen: out of range

TEST(heating_value, net_is_gross_less_the_latent_heat_of_the_water) {
  // ATcT 1.112, recomputed: methane HHV 890590, LHV 802584; propane 2219332, 2043320 J/mol
  const auto methane = elements_of(composition_of_formula(1, 4), 0.0);
  const double per_kg = 1000 / 16.043;
  EXPECT_NEAR(net_heating_value(890590 * per_kg, methane) / per_kg, 802584, 1);
  const auto propane = elements_of(composition_of_formula(3, 8), 0.0);
  const double propane_per_kg = 1000 / 44.097;
  EXPECT_NEAR(net_heating_value(2219332 * propane_per_kg, propane) / propane_per_kg, 2043320, 1);
}

TEST(heating_value, latent_heat_of_water_itself) {
  // ATcT 1.112, recomputed: 2442.54 kJ/kg at 18.01528 g/mol, here 18.015. IAPWS-IF97 2441.71:
  // ideal gas, not real vapour, 0.1 %
  const auto water = elements_of(composition{.water = 1}, 0.0);
  EXPECT_NEAR(latent_heat_of(water), 2442.54e3 * 18.01528 / 18.015, 5);
  EXPECT_NEAR(latent_heat_of(water), 2441.71e3, 2442);
}

TEST(heating_value, estimate_from_composition_is_near_the_published_values) {
  // 10 CFR 430 Subpart B App. O Table 2 (2015 ed.): 19500 Btu/lb, 1 Btu/lb = 2326 J/kg exactly
  const auto oil = estimated_heating_value(composition_of_formula(1, 1.80));
  ASSERT_TRUE(oil);
  EXPECT_NEAR(oil->value, 19500 * 2326, 2 * oil->standard_uncertainty);
  EXPECT_NEAR(oil->value / (19500 * 2326), 1, 0.0145);  // their mean absolute error
  const auto methane = estimated_heating_value(composition_of_formula(1, 4));
  ASSERT_TRUE(methane);
  EXPECT_NEAR(methane->value, heating_value_of(pure("ch4")), 2 * methane->standard_uncertainty);
}

}  // namespace
}  // namespace stilling
