// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#include "stilling/items/assumption.hpp"

#include <gtest/gtest.h>

#include <set>
#include <type_traits>

namespace stilling {
namespace {

static_assert(std::is_trivially_copyable_v<assumption>);
static_assert(name_of(assumed::column_ignored) == "column_ignored");
static_assert(name_of(assumed::units_contradict) == "units_contradict");
static_assert(static_cast<std::size_t>(assumed::units_contradict) + 1 == assumed_count);

TEST(assumption, every_kind_has_a_word_of_its_own) {
  std::set<std::string_view> words;
  for (std::size_t i = 0; i < assumed_count; ++i)
    EXPECT_TRUE(words.insert(name_of(static_cast<assumed>(i))).second);
  EXPECT_EQ(words.count(""), 0U);
}

}  // namespace
}  // namespace stilling
