// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT

#include "stilling/items/record.hpp"

#include <gtest/gtest.h>

#include <set>
#include <type_traits>

namespace stilling {
namespace {

static_assert(std::is_trivially_copyable_v<record> && std::is_trivially_copyable_v<rejection> &&
              std::is_trivially_copyable_v<discontinuity> && std::is_trivially_copyable_v<note>);
static_assert(name_of(fault::line_too_long) == "line_too_long");
static_assert(name_of(static_cast<fault>(fault_count - 1)) == "ambiguous_time",
              "the count is that of the list");
static_assert(name_of(break_kind::clock_back) == "clock_back");
static_assert(name_of(break_kind::reconnect) == "reconnect");

TEST(fault, every_one_has_a_word_of_its_own) {
  std::set<std::string_view> words;
  for (std::size_t i = 0; i < fault_count; ++i) {
    const auto word = name_of(static_cast<fault>(i));
    EXPECT_FALSE(word.empty());
    EXPECT_TRUE(words.insert(word).second) << word;
  }
}

TEST(record, says_nothing_it_does_not_know) {
  const record r;
  EXPECT_EQ(r.line, 0U) << "lines count from 1";
  EXPECT_TRUE(r.text.empty());
  EXPECT_FALSE(r.cut);
}

TEST(rejection, the_whole_line_is_field_zero) {
  const rejection r{.line = 7, .what = fault::no_time};
  EXPECT_EQ(r.field, 0U);
  EXPECT_EQ(name_of(r.what), "no_time");
}

TEST(note, without_a_time_of_its_own_has_none) {
  const note n{.line = 3, .text = "opened the air shutter"};
  EXPECT_FALSE(n.at.has_value());
}

}  // namespace
}  // namespace stilling
