// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#include "stilling/combustion/instrument_error.hpp"

#include <gtest/gtest.h>

#include <cmath>

#include "stilling/combustion/combustion.hpp"

namespace stilling {
namespace {

static_assert(instrument_error{}.at(500) == 0);
static_assert(instrument_error{5e-6, 0.05}.at(20e-6) == 5e-6);  // 5 ppm: above 5 % of 20 ppm
static_assert(instrument_error{5e-6, 0.05}.at(400e-6) == 20e-6);

TEST(instrument_error, the_greater_of_the_two_counts) {
  constexpr instrument_error thermometer{2, 0.01, 273.15};  // 2 degC or 1 % of the reading in degC
  EXPECT_DOUBLE_EQ(thermometer.at(273.15 + 100), 2);
  EXPECT_DOUBLE_EQ(thermometer.at(273.15 + 250), 2.5);
  EXPECT_DOUBLE_EQ(thermometer.at(273.15 - 250), 2.5);
  // JCGM 100:2008 4.3.7: plus or minus a, all values as likely, is a/sqrt(3)
  EXPECT_NEAR(thermometer.of(273.15 + 100).standard, 2 * 0.577350, 1e-6);
}

TEST(instrument_error, enters_the_readings_as_an_independent_part) {
  lanes<estimate> in;
  in.set(channel::o2, {0.05, 0.001});
  in.set(channel::co, {20e-6, 1e-6});
  lanes<instrument_error> specified;
  specified.set(channel::o2, {0.002, 0});
  specified.set(channel::stack_temp, {1, 0});  // nothing was read there
  const auto out = with_instrument(in, specified);
  EXPECT_NEAR(out[channel::o2].standard_uncertainty, std::sqrt(1e-6 + 4e-6 / 3), 1e-12);
  EXPECT_EQ(out[channel::o2].value, 0.05);
  EXPECT_EQ(out[channel::co], in[channel::co]);
  EXPECT_FALSE(out.has(channel::stack_temp));
}

}  // namespace
}  // namespace stilling
