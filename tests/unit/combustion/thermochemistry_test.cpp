// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#include "stilling/combustion/thermochemistry.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>

#include "stilling/combustion/uncertain.hpp"

namespace stilling {
namespace {

constexpr double reference = 298.15;  // K
static_assert(enthalpy_rise(species::n2, reference, reference) == 0);
static_assert(heat_capacity(species::ar, 500.0) == 2.5 * gas_constant);

double rise(species s, double t) { return enthalpy_rise(s, reference, t); }

// H(T) - H(298.15 K), J/mol, NASA 7 of this set, recomputed: printed digits
TEST(thermochemistry, enthalpy_by_the_printed_table) {
  const double kelvin[]{350, 400, 450, 500, 550, 600, 800, 1000};
  const double n2[]{1511.31, 2972.45, 4439.45, 5914.55, 7399.94, 8897.69, 15044.68, 21464.58};
  const double o2[]{1531.42, 3026.95, 4544.49, 6086.19, 7652.98, 9244.82, 15838.13, 22706.81};
  const double co2[]{1983.66,  3999.98,  6108.43,  8300.39,
                     10567.94, 12903.82, 22808.85, 33397.07};
  const double h2o[]{1748.89, 3452.49, 5176.80, 6924.82, 8698.86, 10500.61, 18003.46, 26002.52};
  const double co[]{1513.06, 2978.00, 4451.39, 5935.70, 7433.17, 8945.78, 15173.87, 21689.96};
  const double ar[]{1077.76, 2117.07, 3156.38, 4195.69, 5234.99, 6274.30, 10431.53, 14588.76};
  for (int i = 0; i < 8; ++i) {
    EXPECT_NEAR(rise(species::n2, kelvin[i]), n2[i], 0.01) << kelvin[i];
    EXPECT_NEAR(rise(species::o2, kelvin[i]), o2[i], 0.01) << kelvin[i];
    EXPECT_NEAR(rise(species::co2, kelvin[i]), co2[i], 0.01) << kelvin[i];
    EXPECT_NEAR(rise(species::h2o, kelvin[i]), h2o[i], 0.01) << kelvin[i];
    EXPECT_NEAR(rise(species::co, kelvin[i]), co[i], 0.01) << kelvin[i];
    EXPECT_NEAR(rise(species::ar, kelvin[i]), ar[i], 0.01) << kelvin[i];
  }
}

// NIST Chemistry WebBook, Shomate: H - H298 in kJ/mol; t = T/1000
struct shomate {
  double low, high, a, b, c, d, e, f, h;
  double operator()(double kelvin) const {
    const double t = kelvin / 1000;
    const double powers = t * (a + t * (b / 2 + t * (c / 3 + t * d / 4)));
    return 1000 * (powers - e / t + f - h);
  }
};

TEST(thermochemistry, enthalpy_against_the_shomate_equations) {
  const struct {
    species s;
    shomate row;
  } rows[]{
      {species::n2, {100, 500, 28.98641, 1.853978, -9.647459, 16.63537, 0.000117, -8.671914, 0}},
      {species::n2, {500, 2000, 19.50583, 19.88705, -8.598535, 1.369784, 0.527601, -4.935202, 0}},
      {species::o2, {100, 700, 31.32234, -20.23531, 57.86644, -36.50624, -0.007374, -8.903471, 0}},
      {species::o2, {700, 2000, 30.03235, 8.772972, -3.988133, 0.788313, -0.741599, -11.32468, 0}},
      {species::co2,
       {298, 1200, 24.99735, 55.18696, -33.69137, 7.948387, -0.136638, -403.6075, -393.5224}},
      {species::h2o,
       {500, 1700, 30.092, 6.832514, 6.793435, -2.53448, 0.082139, -250.881, -241.8264}},
      {species::co,
       {298, 1300, 25.56759, 6.09613, 4.054656, -2.671301, 0.131021, -118.0089, -110.5271}},
  };
  double worst = 0;
  for (const auto& [s, row] : rows) {
    for (double t = 350; t <= 1000; t += 50) {
      if (t < row.low || t > row.high) continue;
      const double apart = rise(s, t) / row(t) - 1;
      EXPECT_NEAR(apart, 0, 0.0015) << polynomial_of(s).name << ' ' << t;
      worst = std::max(worst, std::abs(apart));
    }
  }
  EXPECT_NEAR(worst, 0.00133, 0.00005);  // CO at 450 K: the two families, and no other mistake
}

// NASA/TP-2002-211556, 200-1000 K: cp/R and H/RT with nine coefficients
TEST(thermochemistry, enthalpy_against_the_nine_coefficient_set) {
  const struct {
    species s;
    double a1, a2, a3, a4, a5, a6, a7;
  } rows[]{
      {species::n2, 22103.71497, -381.846182, 6.08273836, -8.53091441e-3, 1.384646189e-5,
       -9.62579362e-9, 2.519705809e-12},
      {species::o2, -34255.6342, 484.700097, 1.119010961, 4.29388924e-3, -6.83630052e-7,
       -2.0233727e-9, 1.039040018e-12},
      {species::co2, 49436.5054, -626.411601, 5.30172524, 2.503813816e-3, -2.127308728e-7,
       -7.68998878e-10, 2.849677801e-13},
      {species::h2o, -39479.6083, 575.573102, 0.931782653, 7.22271286e-3, -7.34255737e-6,
       4.95504349e-9, -1.336933246e-12},
      {species::co, 14890.45326, -292.2285939, 5.72452717, -8.176235030e-3, 1.456903469e-5,
       -1.087746302e-8, 3.027941827e-12},
  };
  for (const auto& r : rows) {
    const auto h = [&](double t) {
      return gas_constant * (-r.a1 / t + r.a2 * std::log(t) + t * (r.a3 + t * (r.a4 / 2 +
             t * (r.a5 / 3 + t * (r.a6 / 4 + t * r.a7 / 5)))));
    };
    for (double t = 350; t <= 1000; t += 50) {
      EXPECT_NEAR(rise(r.s, t) / (h(t) - h(reference)), 1, 0.0015) << polynomial_of(r.s).name << t;
    }
  }
}

// JANAF 1998, J/(mol K)
TEST(thermochemistry, heat_capacity_against_janaf) {
  const double kelvin[]{298.15, 400, 500, 600, 800, 1000};
  const double co2[]{37.129, 41.325, 44.627, 47.321, 51.434, 54.308};
  const double h2o[]{33.590, 34.262, 35.226, 36.325, 38.721, 41.268};
  const double co[]{29.142, 29.342, 29.794, 30.443, 31.899, 33.183};
  for (int i = 0; i < 6; ++i) {
    EXPECT_NEAR(heat_capacity(species::co2, kelvin[i]) / co2[i], 1, 0.0012);
    EXPECT_NEAR(heat_capacity(species::h2o, kelvin[i]) / h2o[i], 1, 0.0012);
    EXPECT_NEAR(heat_capacity(species::co, kelvin[i]) / co[i], 1, 0.0012);
  }
}

TEST(thermochemistry, enthalpy_is_the_integral_of_heat_capacity) {
  for (std::size_t i = 0; i < species_count; ++i) {
    const auto s = static_cast<species>(i);
    const uncertain t{estimate{500, 1}, input::stack_temp};
    EXPECT_NEAR(enthalpy_rise(s, uncertain{reference}, t).standard_uncertainty(),
                heat_capacity(s, 500.0), 1e-9);
  }
}

}  // namespace
}  // namespace stilling
