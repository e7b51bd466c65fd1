// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#include "stilling/combustion/advice.hpp"

#include <gtest/gtest.h>

#include <set>

namespace stilling {
namespace {

static_assert(name_of(finding_kind::co_high) == "co_high");
static_assert(static_cast<std::size_t>(finding_kind::wrong_fuel_likely) + 1 == finding_kind_count);

TEST(advice, every_finding_says_what_it_may_mean_and_what_to_check_first) {
  std::set<std::string_view> names;
  for (std::size_t i = 0; i < finding_kind_count; ++i) {
    const auto& row = advice_table[i];
    EXPECT_EQ(static_cast<std::size_t>(row.is), i) << row.name;
    names.insert(row.name);
    EXPECT_TRUE(row.meaning.ends_with('.')) << row.name;
    EXPECT_TRUE(row.check_first.ends_with('.') || row.check_first.ends_with('?')) << row.name;
  }
  EXPECT_EQ(names.size(), finding_kind_count);
}

TEST(advice, danger_to_people_is_said_first) {
  EXPECT_NE(advice_on(finding_kind::co_high).meaning.find("harms people"), std::string_view::npos);
  EXPECT_TRUE(advice_on(finding_kind::co_in_room).check_first.starts_with("Get people out"));
  EXPECT_NE(precedence.find("maker's instructions"), std::string_view::npos);
}

}  // namespace
}  // namespace stilling
