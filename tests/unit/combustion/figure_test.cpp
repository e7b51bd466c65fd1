// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#include "stilling/combustion/figure.hpp"

#include <gtest/gtest.h>

#include <set>

namespace stilling {
namespace {

static_assert(traits_of(figure::efficiency_net).basis == heat_basis::net);
static_assert(static_cast<std::size_t>(figure::vapour_pressure) + 1 == figure_count);

TEST(figure, every_row_is_in_its_place_with_a_key_of_its_own) {
  std::set<std::string_view> stems, labels;
  for (std::size_t i = 0; i < figure_count; ++i) {
    EXPECT_EQ(index_of(figure_table[i].is), i) << figure_table[i].stem;
    stems.insert(figure_table[i].stem);
    labels.insert(figure_table[i].label);
  }
  EXPECT_EQ(stems.size(), figure_count);
  EXPECT_EQ(labels.size(), figure_count);
}

TEST(figure, a_name_with_gross_or_net_heat_in_it_says_so_in_its_basis) {
  for (const auto& row : figure_table) {
    const auto said = row.stem.ends_with("_gross") ? heat_basis::gross
                      : row.stem.ends_with("_net") ? heat_basis::net
                                                   : row.basis;
    EXPECT_EQ(row.basis, said) << row.stem;
  }
}

}  // namespace
}  // namespace stilling
