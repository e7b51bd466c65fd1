// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#include "stilling/combustion/draft.hpp"

#include <gtest/gtest.h>

#include "stilling/combustion/combustion.hpp"

namespace stilling {
namespace {

constexpr double inches_of_mercury_per_psi = 2.03602;
constexpr double feet = 0.3048;  // metres; exact

double pull(double metres, temperature outdoor, temperature gas, double barometer = 101325) {
  return -theoretical_draft(metres, outdoor, gas, barometer).in_pascals();
}
double in_inches(double pascals) {
  return pressure_difference::from_pascals(pascals).in_inches_of_water();
}
temperature rankine(double r) { return temperature::from_kelvins(r / 1.8); }

static_assert(theoretical_draft(10, temperature::from_celsius(0), temperature::from_celsius(200)) <
              pressure_difference{});  // suction is negative
static_assert(theoretical_draft(10, temperature::from_celsius(20), temperature::from_celsius(20)) ==
              pressure_difference{});

TEST(draft, babcock_and_wilcox_examples) {
  // Babcock & Wilcox, Steam: 0.52 H P (1/T - 1/T1), ft, psi, degrees Rankine: 100 ft, 521 and 961;
  // 14.7 psi 0.67 printed; 10 psi 0.45 printed, the book truncates
  EXPECT_NEAR(in_inches(pull(100 * feet, rankine(521), rankine(961), 14.7 * 6894.757293)), 0.67,
              0.005);
  EXPECT_NEAR(in_inches(pull(100 * feet, rankine(521), rankine(961), 10 * 6894.757293)), 0.45,
              0.01);
  // the 0.52 form itself, 0.3 %: constants of the form
  const double form = 0.52 * 100 * 14.7 * (1 / 521.0 - 1 / 961.0);
  EXPECT_NEAR(form, 0.6718, 0.0001);
  EXPECT_NEAR(in_inches(pull(100 * feet, rankine(521), rankine(961), 14.7 * 6894.757293)) / form, 1,
              0.003);
  // ASHRAE form, from memory: 0.2554 B H (1/To - 1/Tm), inHg, is the same formula
  EXPECT_NEAR(0.2554 * inches_of_mercury_per_psi, 0.52, 0.00001);
}

TEST(draft, in_pascals) {
  // recomputed: g H (P/R)(1/To - 1/Ti), gas as dry air
  EXPECT_NEAR(pull(10, temperature::from_celsius(0), temperature::from_celsius(200)), 53.57, 0.05);
  const double of_30_feet =
      pull(30 * feet, temperature::from_fahrenheit(60), temperature::from_fahrenheit(400));
  EXPECT_NEAR(of_30_feet / 43.36, 1, 0.003);
  EXPECT_NEAR(in_inches(of_30_feet) / 0.1741, 1, 0.003);
}

// 15 m, 30 and 40 degC: 5.470 Pa. The density of 0 degC would give 6.073, a ratio of Celsius 47.5.
TEST(draft, absolute_temperature_only) {
  const double of_15_metres =
      pull(15, temperature::from_celsius(30), temperature::from_celsius(40));
  EXPECT_NEAR(of_15_metres, 5.470, 0.01);
}

TEST(draft, light_gas_pulls_more) {
  const auto hot = temperature::from_celsius(200), cold = temperature::from_celsius(0);
  EXPECT_LT(theoretical_draft(10, cold, hot, 101325, 28.0), theoretical_draft(10, cold, hot));
}

// Babcock & Wilcox, Steam: 100 ft, 61 and 501 degF, 0.67 inH2O printed; the uncertainty of a height
// known to 5 ft (k = 1) is 5 % of it.
TEST(draft, as_a_figure_of_the_test_with_its_uncertainty) {
  lanes<estimate> in;
  in.set(channel::stack_temp, {961 / 1.8, 0});
  derive_options how{.barometer = {14.7 * 6894.757293, 0}};
  EXPECT_EQ(derive(in, no2_oil, how)[figure::draft_theoretical].error(), undefined::not_derived);
  how.flue = chimney{{100 * feet, 5 * feet}, {521 / 1.8, 0}};
  const auto y = derive(in, no2_oil, how)[figure::draft_theoretical].value();
  EXPECT_NEAR(in_inches(-y.value), 0.67, 0.005);
  EXPECT_NEAR(y.standard_uncertainty / -y.value, 0.05, 1e-9);
  EXPECT_EQ(derive(lanes<estimate>{}, no2_oil, how)[figure::draft_theoretical].error(),
            undefined::stack_temp_absent);
}

TEST(draft, a_wandering_zero_is_taken_out_evenly) {
  const auto pa = [](double x) { return pressure_difference::from_pascals(x); };
  EXPECT_EQ(zero_corrected(pa(-10), pa(0), pa(0)), pa(-10));
  EXPECT_EQ(zero_corrected(pa(-10), pa(1), pa(3)), pa(-12));
  EXPECT_EQ(zero_corrected(pa(-10), pa(1), pa(3), 0), pa(-11));
  EXPECT_EQ(zero_corrected(pa(-10), pa(1), pa(3), 1), pa(-13));
}

}  // namespace
}  // namespace stilling
