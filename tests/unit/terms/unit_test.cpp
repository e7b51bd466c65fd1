// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#include "stilling/terms/unit.hpp"

#include <gtest/gtest.h>

namespace stilling {
namespace {

static_assert(unit_table.size() == unit_count && time_unit_names.size() == time_unit_count);
static_assert(find_unit("degF", quantity::temperature) == unit::fahrenheit);
static_assert(!find_unit("degF", quantity::volume_fraction), "a unit belongs to its quantity");
static_assert(!find_unit("", quantity::temperature));
static_assert(find_time_unit("min") == time_unit::minute && !find_time_unit("m"));

// UCUM case sensitive codes, as the tables of units of UCUM 2.1 list them.
static_assert(find_unit("Cel", quantity::temperature) == unit::celsius);
static_assert(find_unit("[degF]", quantity::temperature) == unit::fahrenheit);
static_assert(find_unit("[in_i'H2O]", quantity::pressure_difference) == unit::inch_of_water);
static_assert(find_unit("[ppm]", quantity::volume_fraction) == unit::ppm);
static_assert(find_unit("%", quantity::volume_fraction) == unit::percent);

TEST(unit, agrees_with_the_typed_units_to_the_last_bit) {
  for (double x : {-40.0, 0.0, 68.2, 412.5, 471.0}) {
    EXPECT_EQ(to_canonical(unit::fahrenheit, x), temperature::from_fahrenheit(x).in_kelvins());
    EXPECT_EQ(to_canonical(unit::celsius, x), temperature::from_celsius(x).in_kelvins());
    EXPECT_EQ(to_canonical(unit::percent, x), volume_fraction::from_percent(x).in_fraction());
    EXPECT_EQ(to_canonical(unit::ppm, x), volume_fraction::from_ppm(x).in_fraction());
    EXPECT_EQ(to_canonical(unit::inch_of_water, x),
              pressure_difference::from_inches_of_water(x).in_pascals());
  }
}

TEST(unit, goes_there_and_back) {
  for (std::size_t i = 0; i < unit_count; ++i) {
    const auto u = static_cast<unit>(i);
    for (double x : {-0.04, 5.1, 412.5}) {
      EXPECT_NEAR(from_canonical(u, to_canonical(u, x)), x, 1e-12 * 700) << traits_of(u).name;
      EXPECT_NEAR(difference_from_canonical(u, to_canonical(u, x + 1) - to_canonical(u, x)), 1,
                  1e-8)
          << traits_of(u).name;
    }
  }
}

// NIST SP 811, appendix B: 1 inH2O (conventional) = 249.0889 Pa, 1 mmH2O = 9.80665 Pa.
TEST(unit, has_the_conventional_columns_of_water) {
  EXPECT_NEAR(to_canonical(unit::inch_of_water, 1), 249.0889, 5e-5);
  EXPECT_EQ(to_canonical(unit::millimetre_of_water, 1), 9.80665);
  EXPECT_EQ(to_canonical(unit::millibar, 1), 100);
}

}  // namespace
}  // namespace stilling
