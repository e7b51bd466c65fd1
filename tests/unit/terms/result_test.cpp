// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT

#include "stilling/terms/result.hpp"

#include <gtest/gtest.h>

#include <string_view>
#include <type_traits>

namespace stilling {
namespace {

enum class reason { too_cold, too_hot };
using outcome = result<double, reason>;

static_assert(std::is_trivially_copyable_v<outcome>);
static_assert(!std::is_convertible_v<reason, outcome>, "a reason is wrapped, never mistaken");
static_assert(!std::is_convertible_v<outcome, bool>, "only where a condition is asked for");
constexpr outcome fine{2.5}, failed{unexpected{reason::too_hot}};
static_assert(fine.has_value() && *fine == 2.5 && fine.value_or(0) == 2.5);
static_assert(!failed.has_value() && failed.error() == reason::too_hot);
static_assert(std::is_same_v<outcome::value_type, double> &&
              std::is_same_v<outcome::error_type, reason>);

constexpr outcome below_boiling(double celsius) {
  if (celsius < 0) return unexpected{reason::too_cold};
  if (celsius > 100) return unexpected{reason::too_hot};
  return celsius;
}

TEST(result, holds_a_value_or_the_reason_why_there_is_none) {
  ASSERT_TRUE(below_boiling(20));
  EXPECT_EQ(below_boiling(20).value(), 20);
  ASSERT_FALSE(below_boiling(-1));
  EXPECT_EQ(below_boiling(-1).error(), reason::too_cold);
  EXPECT_EQ(below_boiling(101).error(), reason::too_hot);
}

TEST(result, a_value_of_the_same_type_as_the_reason_stays_apart) {
  const result<int, int> good{7}, bad{unexpected{7}};
  EXPECT_TRUE(good.has_value());
  EXPECT_FALSE(bad.has_value());
  EXPECT_FALSE(good == bad);
}

TEST(result, stands_in_with_another_value) {
  EXPECT_EQ(below_boiling(-5).value_or(0), 0);
  EXPECT_EQ(below_boiling(5).value_or(0), 5);
}

TEST(result, is_looked_into_like_a_pointer) {
  const result<std::string_view, reason> word{std::string_view{"steady"}};
  EXPECT_EQ(word->size(), 6U);
  EXPECT_EQ(*word, "steady");
}

TEST(result, compares_value_with_value_and_reason_with_reason) {
  EXPECT_EQ(below_boiling(5), outcome{5});
  EXPECT_NE(below_boiling(5), outcome{6});
  EXPECT_EQ(below_boiling(-5), outcome{unexpected{reason::too_cold}});
  EXPECT_NE(below_boiling(-5), below_boiling(500));
}

}  // namespace
}  // namespace stilling
