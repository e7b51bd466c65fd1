// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#include "stilling/combustion/fuel_constants.hpp"

#include <gtest/gtest.h>

#include <set>

#include "stilling/combustion/fuel_table.hpp"

namespace stilling {
namespace {

static_assert(constants_of(fuel{.name = "unknown", .label = "unknown"}).size() == 0);
static_assert(constants_of(no2_oil).find("app_o_b")->value == 14.34);

TEST(fuel_constants, every_row_has_a_key_of_its_own_and_a_source) {
  for (const auto& f : fuel_table) {
    std::set<std::string_view> keys;
    const auto all = constants_of(f);
    for (const auto& c : all) {
      keys.insert(c.key);
      EXPECT_FALSE(c.label.empty()) << c.key;
      EXPECT_FALSE(c.source.empty()) << c.key;
    }
    EXPECT_EQ(keys.size(), all.size()) << f.name;
  }
}

TEST(fuel_constants, what_a_fuel_does_not_have_is_not_listed) {
  const auto b100 = constants_of(*find_fuel("b100"));
  EXPECT_EQ(b100.find("app_o_b"), nullptr);
  EXPECT_EQ(b100.find("f"), nullptr);
  EXPECT_NEAR(b100.find("oxygen_pct")->value, 11, 1e-12);
  EXPECT_EQ(constants_of(no2_oil).find("oxygen_pct"), nullptr);
  EXPECT_NEAR(constants_of(no2_oil).find("co2_maximum_pct")->value, 15.450, 0.01);
}

TEST(fuel_constants, there_is_room_for_all_of_them) {
  fuel full = no2_oil;
  full.made_of = composition{.carbon = 0.7, .hydrogen = 0.1, .oxygen = 0.1, .nitrogen = 0.02,
                             .sulphur = 0.02, .water = 0.05, .ash = 0.01};
  EXPECT_LE(constants_of(full).size(), 32U);
  EXPECT_NE(constants_of(full).find("siegert_b"), nullptr);
}

}  // namespace
}  // namespace stilling
