// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#include "stilling/combustion/evidence.hpp"

#include <gtest/gtest.h>

#include "stilling/combustion/fuel_table.hpp"
#include "stilling/terms/units.hpp"

namespace stilling {
namespace {

lanes<estimate> oxygen_only(double percent, double uncertainty) {
  lanes<estimate> in;
  in.set(channel::o2, {percent / 100, uncertainty / 100});
  return in;
}

undefined near_air(double percent, double uncertainty) {
  const derive_options how;
  const evidence e{oxygen_only(percent, uncertainty), no2_oil, how};
  return e.below_air ? undefined::not_derived : e.below_air.error();
}

// 1/(20.9 - O2): withheld within 1 point of air or within ten standard uncertainties of it
TEST(evidence, oxygen_near_air_is_withheld) {
  EXPECT_EQ(near_air(19.8, 0.05), undefined::not_derived);
  EXPECT_EQ(near_air(20.0, 0.05), undefined::oxygen_near_air);
  EXPECT_EQ(near_air(19.8, 0.12), undefined::oxygen_near_air);
  EXPECT_EQ(near_air(20.9, 0.05), undefined::oxygen_at_air);
  EXPECT_EQ(near_air(25, 0.05), undefined::oxygen_at_air);
  EXPECT_EQ(near_air(-0.001, 0.05), undefined::oxygen_negative);
  EXPECT_EQ(near_air(0, 0.05), undefined::not_derived);
}

TEST(evidence, what_was_read_comes_before_what_follows_from_it) {
  auto in = oxygen_only(5, 0.1);
  const derive_options how;
  EXPECT_NEAR(evidence(in, no2_oil, how).co2->value, 0.11762, 0.0001);  // 40 CFR 1065 composition
  in.set(channel::co2, {0.13, 0.001});
  EXPECT_EQ(evidence(in, no2_oil, how).o2->value, 0.05);
  EXPECT_EQ(evidence(in, no2_oil, how).co2->value, 0.13);
  EXPECT_NEAR(evidence(in, no2_oil, how).gas->o2.value / evidence(in, no2_oil, how).gas->dry.value,
              0.05, 1e-12);
  in.clear(channel::o2);
  const evidence e{in, no2_oil, how};
  EXPECT_EQ(e.co2->value, 0.13);
  EXPECT_NEAR(e.o2->value, 0.0332, 0.0005);
}

TEST(evidence, carbon_dioxide_above_the_fuels_maximum_is_refused) {
  lanes<estimate> in;
  const derive_options how;
  in.set(channel::co2, {0.1544, 0.001});
  EXPECT_TRUE(evidence(in, no2_oil, how).o2);
  in.set(channel::co2, {0.1546, 0.001});
  EXPECT_EQ(evidence(in, no2_oil, how).o2.error(), undefined::co2_above_maximum);
  EXPECT_EQ(evidence(in, no2_oil, how).gas.error(), undefined::co2_above_maximum);
}

TEST(evidence, a_fuel_that_says_nothing_gives_no_gas) {
  const fuel unknown{.name = "unknown", .label = "unknown"};
  fuel wrong = no2_oil;
  wrong.made_of->carbon = 0.2;
  const derive_options how;
  EXPECT_EQ(evidence(oxygen_only(5, 0.1), unknown, how).gas.error(),
            undefined::composition_unknown);
  EXPECT_EQ(evidence(oxygen_only(5, 0.1), wrong, how).gas.error(), undefined::fuel_inconsistent);
}

TEST(evidence, moist_air_needs_its_temperature_and_a_sane_humidity) {
  auto in = oxygen_only(5, 0.1);
  derive_options how{.humidity = estimate{0.5, 0.05}};
  EXPECT_EQ(evidence(in, no2_oil, how).moisture.error(), undefined::ambient_temp_absent);
  in.set(channel::ambient_temp, {293.15, 0.5});
  EXPECT_NEAR(evidence(in, no2_oil, how).moisture->value, 0.01168, 0.00005);  // 0.5 p_s/(P - p)
  how.humidity->value = 50;  // percent where a fraction belongs
  EXPECT_EQ(evidence(in, no2_oil, how).moisture.error(), undefined::humidity_out_of_range);
  how.humidity->value = 0.5;
  how.barometer.value = 1013.25;  // hectopascal where pascal belongs
  EXPECT_EQ(evidence(in, no2_oil, how).moisture.error(), undefined::pressure_out_of_range);
}

TEST(evidence, co_within_its_doubt_of_zero_counts_below_it_does_not) {
  auto in = oxygen_only(5, 0.1);
  const derive_options how;
  in.set(channel::co, {-1e-6, 1e-6});
  EXPECT_TRUE(evidence(in, no2_oil, how).co);
  in.set(channel::co, {0.2, 1e-6});
  EXPECT_EQ(evidence(in, no2_oil, how).co.error(), undefined::co_out_of_range);
  in.set(channel::co, {-3e-6, 1e-6});
  EXPECT_EQ(evidence(in, no2_oil, how).co.error(), undefined::co_negative);
  EXPECT_EQ(evidence(in, no2_oil, how).co_counted().value, 0);
}

}  // namespace
}  // namespace stilling
