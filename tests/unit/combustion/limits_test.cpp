// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#include "stilling/combustion/limits.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <set>

namespace stilling {
namespace {

static_assert(name_of(severity::danger) == "danger");
static_assert(residential_oil.find("co_high")->value == 100e-6);
static_assert(residential_oil.find("nonsense") == nullptr);

TEST(limits, every_row_has_a_key_and_a_basis_of_its_own) {
  std::set<std::string_view> keys;
  for (const auto& row : residential_oil) {
    keys.insert(row.key);
    EXPECT_FALSE(row.basis.empty()) << row.key;
    EXPECT_EQ(row.value.has_value(), row.basis != not_set) << row.key;
  }
  EXPECT_EQ(keys.size(), limit_set::count);
}

// Common practice, no published source: the values as they are said
TEST(limits, residential_oil_by_common_practice) {
  const auto value = [](std::string_view key) { return *residential_oil.find(key)->value; };
  EXPECT_NEAR(value("stack_cool"), 176.67 + 273.15, 0.01);             // 350 degF
  EXPECT_NEAR(value("draft_overfire_weak"), -2.49, 0.005);             // -0.01 inH2O
  EXPECT_NEAR(value("draft_overfire_strong"), -4.98, 0.005);           // -0.02 inH2O
  EXPECT_NEAR(value("draft_difference_high"), 12.45, 0.005);           // 0.05 inH2O
  EXPECT_NEAR(value("reading_too_early"), 1.667 / 60, 0.00001);        // 3 degF/min
  EXPECT_EQ(value("oxygen_low"), 0.04);
  EXPECT_EQ(value("oxygen_high"), 0.07);
  EXPECT_EQ(value("co2_low_kit"), 0.09);
  for (auto key : {"oxygen_low", "co_high", "stack_cool", "smoke_high", "co2_high"}) {
    EXPECT_EQ(residential_oil.find(key)->basis, "common practice") << key;
  }
}

TEST(limits, a_makers_set_replaces_value_by_value) {
  auto own = residential_oil;
  EXPECT_TRUE(own.set("oxygen_high", 0.06, "maker's manual"));
  EXPECT_TRUE(own.set("stack_cool", std::nullopt, "condensing unit"));
  EXPECT_FALSE(own.set("oxygen_hihg", 0.06, "maker's manual"));
  EXPECT_EQ(own.find("oxygen_high")->value, 0.06);
  EXPECT_EQ(own.find("oxygen_high")->basis, "maker's manual");
  EXPECT_FALSE(own.find("stack_cool")->value);
  EXPECT_EQ(own.find("oxygen_low")->value, 0.04);
}

TEST(limits, what_endangers_people_stands_first) {
  EXPECT_EQ(residential_oil.begin()->grave, severity::danger);
  const auto room = [](const limit& l) { return l.only == applies::to_room_air; };
  EXPECT_EQ(std::count_if(residential_oil.begin(), residential_oil.end(), room), 3);
}

}  // namespace
}  // namespace stilling
