// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#include "stilling/combustion/formula.hpp"

#include <gtest/gtest.h>

#include <set>

namespace stilling {
namespace {

static_assert(name_of(formula::siegert_loss) == "siegert_loss");
static_assert(static_cast<std::size_t>(formula::partial_pressure) + 1 == formula_count);

TEST(formula, every_row_is_in_its_place_with_text_and_source) {
  std::set<std::string_view> names;
  for (std::size_t i = 0; i < formula_count; ++i) {
    const auto& row = formula_table[i];
    EXPECT_EQ(static_cast<std::size_t>(row.is), i) << row.name;
    names.insert(row.name);
    EXPECT_FALSE(row.text.empty()) << row.name;
    EXPECT_FALSE(row.source.empty()) << row.name;
  }
  EXPECT_EQ(names.size(), formula_count);
}

TEST(formula, air_oxygen_belongs_to_the_formula) {
  EXPECT_NE(traits_of(formula::short_excess_air).text.find("20.9 -"), std::string_view::npos);
  EXPECT_NE(traits_of(formula::siegert_loss).text.find("(21 -"), std::string_view::npos);
  EXPECT_NE(traits_of(formula::stoichiometric_air).text.find("0.20946"), std::string_view::npos);
}

}  // namespace
}  // namespace stilling
