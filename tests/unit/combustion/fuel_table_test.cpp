// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#include "stilling/combustion/fuel_table.hpp"

#include <gtest/gtest.h>

#include <set>

#include "stilling/combustion/flue_gas.hpp"
#include "stilling/combustion/published.hpp"

namespace stilling {
namespace {

static_assert(find_fuel("no2_oil") == &no2_oil);
static_assert(find_fuel("coal") == nullptr);

double btu_per_lb(const fuel& f) { return f.heating_value->value / joules_per_btu_per_lb; }

TEST(fuel_table, every_fuel_can_be_right_and_has_sources) {
  std::set<std::string_view> names;
  for (const auto& f : fuel_table) {
    EXPECT_FALSE(check(f)) << f.name;
    names.insert(f.name);
    EXPECT_TRUE(f.made_of && f.heating_value) << f.name;
    EXPECT_FALSE(f.composition_source.empty()) << f.name;
    EXPECT_FALSE(f.heating_value_source.empty()) << f.name;
    EXPECT_GT(f.hydrogen_uncertainty, 0) << f.name;
    EXPECT_GT(f.heating_value->standard_uncertainty, 0) << f.name;
  }
  for (auto asked : {"no1_oil", "no2_oil", "kerosene", "b5", "b20", "b100", "natural_gas",
                     "propane", "butane"}) {
    EXPECT_TRUE(names.contains(asked)) << asked;
  }
}

// 10 CFR 430 Subpart B App. O Table 2 (2015 ed.): heating values as printed
TEST(fuel_table, heating_values_of_oil_as_printed) {
  EXPECT_DOUBLE_EQ(btu_per_lb(*find_fuel("no1_oil")), 19800);
  EXPECT_DOUBLE_EQ(btu_per_lb(*find_fuel("no2_oil")), 19500);
}

// 40 CFR 98 Table C-1 (78 FR 71950), gross, against App. O and our own constants
TEST(fuel_table, carbon_per_heat_agrees_with_table_c1) {
  const auto carbon_dioxide_per_mmbtu = [](const char* name) {
    const auto& f = *find_fuel(name);
    const double kg = f.made_of->carbon / molar_mass::carbon * 44.009;
    return kg / f.heating_value->value * 1055.05585262e6;
  };
  EXPECT_NEAR(carbon_dioxide_per_mmbtu("no2_oil"), 73.96, 0.025 * 73.96);
  EXPECT_NEAR(carbon_dioxide_per_mmbtu("no1_oil"), 73.25, 0.025 * 73.25);
  EXPECT_NEAR(carbon_dioxide_per_mmbtu("b100"), 73.84, 0.025 * 73.84);
  EXPECT_NEAR(carbon_dioxide_per_mmbtu("natural_gas"), 53.06, 0.025 * 53.06);
  EXPECT_NEAR(carbon_dioxide_per_mmbtu("propane"), 62.87, 0.025 * 62.87);
  EXPECT_NEAR(carbon_dioxide_per_mmbtu("butane"), 64.77, 0.025 * 64.77);
}

TEST(fuel_table, heating_value_of_natural_gas_by_its_carbon_factor) {
  // 40 CFR 75 App. F: Fc 1040 scf CO2/mmBtu; 385.35 scf/lbmol at 68 degF: 53.88 kg/mmBtu
  const auto& f = *find_fuel("natural_gas");
  const double kg = f.made_of->carbon / molar_mass::carbon * 44.009 / f.heating_value->value;
  EXPECT_NEAR(kg * 1055.05585262e6, 53.88, 0.01);
}

// Contradictions between sources, tolerated as the cross-checks say
TEST(fuel_table, co2_maximum_by_composition_factors_and_app_o) {
  const auto apart = [](const char* name) {
    const auto& f = *find_fuel(name);
    const double own = 100 * co2_maximum(elements_of(*f.made_of, 0.0));
    return std::pair{own - 100 * published::co2_maximum(*f.factors),
                     own - 100 * published::co2_maximum(*f.app_o)};
  };
  EXPECT_NEAR(apart("no2_oil").first, 0, 0.1);
  EXPECT_NEAR(apart("no2_oil").second, 0, 0.1);
  EXPECT_NEAR(apart("natural_gas").first, 0, 0.4);
  EXPECT_NEAR(apart("natural_gas").second, 0, 0.4);
  EXPECT_NEAR(apart("propane").first, 0, 0.1);
  EXPECT_NEAR(apart("propane").second, 0, 0.1);
  EXPECT_NEAR(apart("butane").first, 0, 0.35);
  EXPECT_NEAR(apart("butane").second, 0, 0.35);
}

TEST(fuel_table, air_to_fuel_against_app_o) {
  const auto own = [](const char* name) {
    const auto e = elements_of(*find_fuel(name)->made_of, 0.0);
    return theoretical_air(e) * molar_mass::dry_air / 1000;
  };
  EXPECT_NEAR(own("no2_oil"), 14.49, 0.02);
  EXPECT_NEAR(own("no1_oil"), 14.56, 0.01 * 14.56);  // CH1.93 stands in: 1 %
  EXPECT_NEAR(own("propane"), 15.58, 0.01 * 15.58);
  EXPECT_NEAR(own("butane"), 15.36, 0.01 * 15.36);
}

TEST(fuel_table, blends_lie_between_oil_and_biodiesel) {
  const auto& b5 = *find_fuel("b5");
  const auto& b20 = *find_fuel("b20");
  const auto& b100 = *find_fuel("b100");
  // Table C-1 0.128 mmBtu/gal over 7.3 lb/gal (NREL, quoted)
  EXPECT_NEAR(btu_per_lb(b100), 17534, 1);
  EXPECT_DOUBLE_EQ(b100.made_of->oxygen, 0.11);
  EXPECT_GT(b5.heating_value->value, b20.heating_value->value);
  EXPECT_GT(b20.heating_value->value, b100.heating_value->value);
  EXPECT_LT(b20.made_of->carbon, no2_oil.made_of->carbon);
  // Per gallon a blend is the sum of its parts: 5 % of 128000 and 95 % of 138000 Btu
  const double density = 0.05 * 7.3 + 0.95 * fuels::oil_2_density;
  EXPECT_NEAR(btu_per_lb(b5) * density, 0.05 * 128000 + 0.95 * 138000, 1e-6);
}

}  // namespace
}  // namespace stilling
