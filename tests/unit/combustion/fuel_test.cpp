// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#include "stilling/combustion/fuel.hpp"

#include <gtest/gtest.h>

namespace stilling {
namespace {

constexpr fuel peat{.name = "peat",
                    .label = "peat",
                    .made_of = composition{.carbon = 0.4, .hydrogen = 0.04, .oxygen = 0.24,
                                           .nitrogen = 0.01, .water = 0.28, .ash = 0.03},
                    .heating_value = estimate{15e6, 3e5}};
static_assert(!check(peat));
static_assert(!check(fuel{.name = "unknown", .label = "unknown"}));  // claims nothing

fuel with(double fuel_carbon, double heating_value) {
  fuel f = peat;
  f.made_of->carbon = fuel_carbon;
  f.heating_value->value = heating_value;
  return f;
}

TEST(fuel, what_cannot_be_right_is_named) {
  EXPECT_EQ(check(with(0.5, 15e6)), fuel_fault::fractions_do_not_add_up);
  EXPECT_EQ(check(with(-0.1, 15e6)), fuel_fault::fraction_negative);
  EXPECT_EQ(check(with(0.4, 1e6)), fuel_fault::heating_value_impossible);  // latent alone is 1.6e6
  EXPECT_EQ(check(with(0.4, 200e6)), fuel_fault::heating_value_impossible);
  fuel stone{.name = "stone", .label = "stone", .made_of = composition{.ash = 1}};
  EXPECT_EQ(check(stone), fuel_fault::nothing_burns);
  for (auto f : {fuel_fault::fractions_do_not_add_up, fuel_fault::heating_value_impossible}) {
    EXPECT_FALSE(words_of(f).empty());
  }
}

TEST(fuel, a_heating_value_is_estimated_only_where_none_is_given) {
  EXPECT_EQ(with_estimated_heating_value(peat).heating_value, peat.heating_value);
  fuel f = peat;
  f.heating_value.reset();
  const auto estimated = with_estimated_heating_value(f);
  ASSERT_TRUE(estimated.heating_value);
  EXPECT_NEAR(estimated.heating_value->value, 15e6, 1.5e6);
  EXPECT_NE(estimated.heating_value_source.find("estimated"), std::string_view::npos);
  f.made_of.reset();
  EXPECT_FALSE(with_estimated_heating_value(f).heating_value);
}

}  // namespace
}  // namespace stilling
