// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#include "stilling/combustion/published.hpp"

#include <gtest/gtest.h>

#include "stilling/combustion/fuel_table.hpp"

namespace stilling {
namespace {

using namespace published;

static_assert(excess_air(0.0) == 0 && air_ratio(0.0) == 1);
static_assert(rounded_as_the_rule_says(0) == 0 && rounded_as_the_rule_says(1) == 1);

// 40 CFR 75 App. F 3.3.5 Table 1 and Eq. F-14a (2015 ed.); 68 degF, 29.92 inHg; 0.0005
TEST(published, f_factors_give_co2) {
  const struct {
    const char* name;
    double co2_max, fo, at[5];
  } rows[]{{"no2_oil", 15.4516, 1.35261, {13.9730, 13.2336, 11.7550, 9.5371, 8.0585}},
           {"natural_gas", 11.9403, 1.75038, {10.7977, 10.2264, 9.0838, 7.3698, 6.2272}},
           {"propane", 13.6625, 1.52974, {12.3550, 11.7013, 10.3939, 8.4328, 7.1254}},
           {"butane", 14.3513, 1.45631, {12.9780, 12.2913, 10.9180, 8.8580, 7.4847}}};
  const double o2[]{2, 3, 5, 8, 10};
  for (const auto& r : rows) {
    const auto& f = *find_fuel(r.name)->factors;
    EXPECT_NEAR(100 * co2_maximum(f), r.co2_max, 0.0005);
    EXPECT_NEAR(fuel_factor(0.0, co2_maximum(f)), r.fo, 0.00001);
    for (int i = 0; i < 5; ++i) {
      const double co2 = co2_from_o2(f, o2[i] / 100);
      EXPECT_NEAR(100 * co2, r.at[i], 0.0005) << r.name << o2[i];
      EXPECT_NEAR(100 * o2_from_co2(f, co2), o2[i], 1e-12);
      EXPECT_NEAR(fuel_factor(o2[i] / 100, co2), r.fo, 0.00001);  // the same at any excess air
    }
  }
  EXPECT_NEAR(100 * o2_from_co2(*no2_oil.factors, 0.10), 7.3739, 0.0005);
}

// definition; a = 20.9 (40 CFR)
TEST(published, excess_air_and_air_ratio) {
  const double o2[]{0, 2, 3, 3.64, 5, 8, 10, 12};
  const double percent[]{0, 10.5820, 16.7598, 21.0892, 31.4465, 62.0155, 91.7431, 134.8315};
  for (int i = 0; i < 8; ++i) {
    EXPECT_NEAR(100 * excess_air(o2[i] / 100), percent[i], 0.0005);
    EXPECT_NEAR(air_ratio(o2[i] / 100), 1 + percent[i] / 100, 0.000005);
  }
}

// training page example 87 ppm at 5 % -> 114 ppm; rest recomputed; a = 20.9
TEST(published, co_air_free) {
  EXPECT_NEAR(1e6 * published::co_air_free(87e-6, 0.05), 114.3585, 0.0005);
  EXPECT_NEAR(1e6 * published::co_air_free(50e-6, 0.06), 70.1342, 0.0005);
  EXPECT_NEAR(1e6 * published::co_air_free(100e-6, 0.08), 162.0155, 0.0005);
  EXPECT_NEAR(1e6 * published::co_air_free(25e-6, 0.10), 47.9358, 0.0005);
}

// 10 CFR 430 Subpart B App. O 4.1.7-4.1.10, Table 2 (2015 ed.); CO2 9 %, net 400 degF; 0.005
TEST(published, app_o_for_every_fuel_of_its_table) {
  const app_o_constants manufactured{18500, 11.81, 10.14, 0.0965, 10.10, 0.0155, 0.235};
  const struct {
    app_o_constants k;
    double co2_max, sensible, efficiency;
  } rows[]{{*find_fuel("no1_oil")->app_o, 15.2559, 12.9947, 80.4553},
           {*find_fuel("no2_oil")->app_o, 15.3648, 13.2277, 80.2723},
           {*find_fuel("natural_gas")->app_o, 12.0692, 10.3647, 80.0853},
           {manufactured, 11.1787, 9.0131, 80.8469},
           {*find_fuel("propane")->app_o, 13.7570, 11.5765, 80.4335},
           {*find_fuel("butane")->app_o, 14.0666, 11.9554, 80.2546}};
  for (const auto& r : rows) {
    const double sensible = 100 * app_o_sensible(r.k, 0.09, 400 / 1.8);
    EXPECT_NEAR(100 * co2_maximum(r.k), r.co2_max, 0.0005);
    EXPECT_NEAR(sensible, r.sensible, 0.0005);
    EXPECT_NEAR(100 - r.k.latent - sensible, r.efficiency, 0.0005);
  }
}

// the same, No. 2 oil: 49 cells
TEST(published, app_o_matrix_of_no2_oil) {
  const double cells[7][7]{{82.50, 80.66, 78.83, 77.00, 75.16, 73.33, 71.50},
                           {83.58, 81.93, 80.27, 78.62, 76.97, 75.31, 73.66},
                           {84.44, 82.94, 81.43, 79.92, 78.41, 76.90, 75.39},
                           {85.15, 83.76, 82.37, 80.98, 79.59, 78.20, 76.80},
                           {85.74, 84.45, 83.16, 81.86, 80.57, 79.28, 77.98},
                           {86.24, 85.03, 83.82, 82.61, 81.40, 80.19, 78.98},
                           {86.67, 85.53, 84.39, 83.25, 82.12, 80.98, 79.84}};
  for (int c = 0; c < 7; ++c) {
    for (int t = 0; t < 7; ++t) {
      const double loss = app_o_sensible(*no2_oil.app_o, (8 + c) / 100.0, (300 + 50 * t) / 1.8);
      EXPECT_NEAR(100 - no2_oil.app_o->latent - 100 * loss, cells[c][t], 0.005 + 1e-9);
    }
  }
}

// 40 CFR 75 App. F: kg CO2/mmBtu from Fc at 385.35 scf/lbmol, recomputed; Table C-1 of 40 CFR 98
// (78 FR 71950) is up to 2 % apart, so 2.5 %
TEST(published, carbon_factor_gives_carbon_dioxide_per_heat) {
  const struct {
    const char* name;
    double from_fc, table_c1;
  } rows[]{{"no2_oil", 73.56, 73.96}, {"propane", 61.65, 62.87}, {"natural_gas", 53.88, 53.06}};
  for (const auto& r : rows) {
    const double kg = find_fuel(r.name)->factors->carbon / 385.35 * 44.0095 * 0.45359237;
    EXPECT_NEAR(kg, r.from_fc, 0.01) << r.name;
    EXPECT_NEAR(kg / r.table_c1, 1, 0.025) << r.name;
  }
}

// 1. BImSchV Annex 2 no. 2.2: from 5 % to 3 % the factor is 1.125 exactly
TEST(published, concentration_at_reference_oxygen) {
  EXPECT_NEAR(at_reference_oxygen(1.0, 0.05, 0.03), 1.125, 1e-12);
  EXPECT_NEAR(at_reference_oxygen(80.0, 0.03, 0.03), 80, 1e-12);
}

// 1. BImSchV (26 Jan 2010) Annex 2 no. 3.4.1
TEST(published, siegert_losses) {
  const struct {
    siegert_constants k;
    double at[4];
  } rows[]{{{0.68, 0.007}, {6.7167, 7.4250, 9.9000, 11.8615}},
           {{0.66, 0.009}, {6.8500, 7.5375, 10.0500, 11.9538}},
           {{0.60, 0.011}, {6.6500, 7.2750, 9.7000, 11.4308}},
           {{0.63, 0.008}, {6.4500, 7.1063, 9.4750, 11.2923}}};
  for (const auto& r : rows) {
    EXPECT_NEAR(100 * siegert_loss(r.k, 0.03, 150.0), r.at[0], 0.0005);
    EXPECT_NEAR(100 * siegert_loss(r.k, 0.05, 150.0), r.at[1], 0.0005);
    EXPECT_NEAR(100 * siegert_loss(r.k, 0.05, 200.0), r.at[2], 0.0005);
    EXPECT_NEAR(100 * siegert_loss(r.k, 0.08, 200.0), r.at[3], 0.0005);
  }
  EXPECT_EQ(no2_oil.siegert, (siegert_constants{0.68, 0.007}));
  EXPECT_EQ(find_fuel("natural_gas")->siegert, (siegert_constants{0.66, 0.009}));
  EXPECT_EQ(find_fuel("propane")->siegert, (siegert_constants{0.63, 0.008}));
}

// 1. BImSchV Annex 2 no. 3.4.2 and 2.3: twice, in decimals
TEST(published, siegert_rounding_is_done_twice) {
  EXPECT_EQ(rounded_as_the_rule_says(siegert_loss({0.63, 0.008}, 0.03, 150.0)), 0.07);  // 6.45
  EXPECT_EQ(rounded_as_the_rule_says(0.0645), 0.07);    // 6.5 -> 7, where rounding once gives 6
  EXPECT_EQ(rounded_as_the_rule_says(0.07425), 0.07);   // 7.4 -> 7
  EXPECT_EQ(rounded_as_the_rule_says(0.099), 0.10);     // 9.9 -> 10
  EXPECT_EQ(rounded_as_the_rule_says(0.118615), 0.12);  // 11.9 -> 12
  EXPECT_EQ(rounded_as_the_rule_says(siegert_loss({0.66, 0.009}, 0.05, 200.0)), 0.10);  // 10.05
  EXPECT_EQ(rounded_as_the_rule_says(0.0644), 0.06);
}

}  // namespace
}  // namespace stilling
