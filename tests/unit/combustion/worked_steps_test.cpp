// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#include "stilling/combustion/worked_steps.hpp"

#include <gtest/gtest.h>

#include <set>
#include <string>

#include "stilling/combustion/combustion.hpp"
#include "stilling/combustion/explain.hpp"

// That they are what derive() does is shown where figures are followed: explain_test.cpp.
namespace stilling {
namespace {

static_assert(find_step("heat_n2") != nullptr);
static_assert(find_step("heat_he") == nullptr);

TEST(worked_steps, each_has_a_name_of_its_own) {
  std::set<std::string_view> keys;
  for (const auto& s : worked_steps) {
    EXPECT_TRUE(keys.insert(s.key).second) << s.key;
    EXPECT_FALSE(s.label.empty() || s.text.empty() || s.source.empty()) << s.key;
    EXPECT_FALSE(number_named(s.key, combustion{}, no2_oil)) << s.key;
  }
}

// A step leans on steps above it or on numbers, so that no calculation can go round in circles.
TEST(worked_steps, no_step_leans_on_one_that_leans_on_it) {
  std::set<std::string> open;
  const auto walk = [&](const auto& self, const worked_step& s) -> void {
    ASSERT_TRUE(open.insert(std::string{s.key}).second) << s.key;
    for_each_part(
        s.text, [](std::string_view) {},
        [&](std::string_view key) {
          if (const auto* under = find_step(key)) self(self, *under);
        });
    open.erase(std::string{s.key});
  };
  for (const auto& s : worked_steps) walk(walk, s);
}

}  // namespace
}  // namespace stilling
