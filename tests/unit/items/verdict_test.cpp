// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT

#include "stilling/items/verdict.hpp"

#include <gtest/gtest.h>

#include <set>
#include <string_view>
#include <type_traits>

namespace stilling {
namespace {

static_assert(std::is_trivially_copyable_v<verdict> && std::is_trivially_copyable_v<phase_change>);
static_assert(name_of(judgement::undecided) == "undecided" &&
              name_of(judgement::transient) == "transient" &&
              name_of(judgement::steady) == "steady");
static_assert(name_of(phase::no_data) == "no_data" && name_of(phase::cooling) == "cooling");
static_assert(name_of(cause::none) == "none" && name_of(cause::said) == "said");
static_assert(name_of(cause::stream_broke) == "break");
static_assert(name_of(cause::end_of_log) == "end_of_log");

template <class Enum> void each_has_its_own_word(Enum last) {
  std::set<std::string_view> words;
  for (std::size_t i = 0; i <= static_cast<std::size_t>(last); ++i)
    EXPECT_TRUE(words.insert(name_of(static_cast<Enum>(i))).second) << i;
}

TEST(verdict, every_judgement_phase_and_cause_has_a_word_of_its_own) {
  each_has_its_own_word(judgement::steady);
  each_has_its_own_word(phase::cooling);
  each_has_its_own_word(cause::said);
}

TEST(verdict, claims_nothing_by_default) {
  const verdict v;
  EXPECT_EQ(v.in, phase::no_data);
  EXPECT_EQ(v.why, cause::none);
  EXPECT_TRUE(v.trends.valid.empty());
  EXPECT_FALSE(v.onset);
}

TEST(trend_estimate, unknown_is_neither_zero_nor_steady) {
  const trend_estimate t;
  EXPECT_EQ(t.is, judgement::undecided);
  EXPECT_FALSE(t.measured);
  EXPECT_FALSE(t.since);
  EXPECT_FALSE(t.departed);
}

TEST(phase_change, compares_by_what_it_says) {
  const phase_change a{instant{seconds(90)}, 5,           phase::settling, phase::steady,
                       cause::within_limits, std::nullopt};
  phase_change b = a;
  EXPECT_EQ(a, b);
  b.which = channel::o2;
  EXPECT_NE(a, b);
}

}  // namespace
}  // namespace stilling
