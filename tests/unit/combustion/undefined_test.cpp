// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#include "stilling/combustion/undefined.hpp"

#include <gtest/gtest.h>

#include <set>

namespace stilling {
namespace {

static_assert(name_of(undefined::oxygen_at_air) == "oxygen_at_air");
static_assert(static_cast<std::size_t>(undefined::above_whole) + 1 == undefined_count);

TEST(undefined_test, every_reason_has_its_own_name_and_words_in_its_own_row) {
  std::set<std::string_view> names, words;
  for (std::size_t i = 0; i < undefined_count; ++i) {
    const auto& row = undefined_table[i];
    EXPECT_EQ(static_cast<std::size_t>(row.is), i) << row.name;
    names.insert(row.name);
    words.insert(words_of(row.is));
    EXPECT_FALSE(row.words.empty());
  }
  EXPECT_EQ(names.size(), undefined_count);
  EXPECT_EQ(words.size(), undefined_count);
}

}  // namespace
}  // namespace stilling
