// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#include <gtest/gtest.h>

#include <iterator>

#include "stilling/combustion/combustion.hpp"
#include "stilling/terms/units.hpp"

// One sheet per fuel, worked apart from the code and in another way: per mole of carbon with the
// air found by bisection, enthalpies by the nine-coefficient polynomials of NASA/TP-2002-211556,
// dew point by Goff and Gratch. Readings are invented. Percent, degF; dry air at 101.325 kPa.
namespace stilling {
namespace {

struct sheet {
  const char* fuel;
  double o2_pct, co_ppm, stack_f, air_f;
  double excess_exact, co2, dry, vapour, latent, co, gross, net, dew_f, air_free_ppm;
};

constexpr sheet sheets[]{
    {"no1_oil", 5.2, 18, 465, 68, 30.766, 11.397, 9.220, 1.137, 6.606, 0.007, 83.029, 88.902,
     114.63, 23.96},
    {"no2_oil", 5.0, 20, 480, 70, 29.310, 11.760, 9.482, 1.124, 6.315, 0.008, 83.071, 88.671,
     113.42, 26.29},
    {"kerosene", 6.0, 35, 430, 65, 37.393, 10.817, 8.892, 1.043, 6.606, 0.014, 83.445, 89.348,
     112.98, 49.09},
    {"b5", 4.5, 25, 475, 70, 25.580, 12.142, 9.075, 1.111, 6.320, 0.009, 83.484, 89.117, 114.48,
     31.86},
    {"b20", 6.5, 25, 440, 70, 42.092, 10.699, 9.321, 1.015, 6.336, 0.011, 83.318, 88.954, 110.61,
     36.28},
    {"b100", 5.5, 15, 455, 72, 33.431, 11.660, 8.791, 1.066, 6.422, 0.006, 83.715, 89.460, 114.13,
     20.36},
    {"natural_gas", 4.0, 12, 360, 70, 21.209, 9.734, 5.807, 1.205, 9.650, 0.004, 83.335, 92.235,
     131.00, 14.84},
    {"propane", 3.5, 30, 390, 60, 18.372, 11.423, 6.608, 1.128, 7.931, 0.010, 84.322, 91.586,
     125.00, 36.03},
    {"butane", 7.0, 110, 410, 75, 46.099, 9.326, 8.399, 1.107, 7.646, 0.046, 82.802, 89.657,
     116.51, 165.40},
};

TEST(sheets, every_fuel_as_worked_apart_from_the_code) {
  EXPECT_EQ(std::size(sheets), fuel_table.size());
  for (const auto& s : sheets) {
    lanes<estimate> in;
    in.set(channel::stack_temp, {temperature::from_fahrenheit(s.stack_f).in_kelvins(), 0});
    in.set(channel::ambient_temp, {temperature::from_fahrenheit(s.air_f).in_kelvins(), 0});
    in.set(channel::o2, {s.o2_pct / 100, 0});
    in.set(channel::co, {s.co_ppm / 1e6, 0});
    const auto y = derive(in, *find_fuel(s.fuel));
    const auto percent = [&](figure f) { return 100 * y[f].value().value; };
    EXPECT_NEAR(percent(figure::excess_air_exact), s.excess_exact, 0.001) << s.fuel;
    EXPECT_NEAR(percent(figure::co2), s.co2, 0.001) << s.fuel;
    EXPECT_NEAR(percent(figure::dry_gas_loss), s.dry, 0.005) << s.fuel;
    EXPECT_NEAR(percent(figure::vapour_loss), s.vapour, 0.002) << s.fuel;
    EXPECT_NEAR(percent(figure::latent_loss), s.latent, 0.001) << s.fuel;
    EXPECT_NEAR(percent(figure::co_loss), s.co, 0.001) << s.fuel;
    EXPECT_NEAR(percent(figure::efficiency_gross), s.gross, 0.005) << s.fuel;
    EXPECT_NEAR(percent(figure::efficiency_net), s.net, 0.006) << s.fuel;
    EXPECT_NEAR(temperature::from_kelvins(y[figure::dew_point]->value).in_fahrenheit(), s.dew_f,
                0.1) << s.fuel;
    EXPECT_NEAR(1e6 * y[figure::co_air_free]->value, s.air_free_ppm, 0.005) << s.fuel;
  }
}

}  // namespace
}  // namespace stilling
