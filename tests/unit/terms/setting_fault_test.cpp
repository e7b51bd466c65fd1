// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT

#include "stilling/terms/setting_fault.hpp"

#include <gtest/gtest.h>

#include <type_traits>

namespace stilling {
namespace {

static_assert(std::is_trivially_copyable_v<setting_fault>);
static_assert(setting_fault{"a", "above 0"} == setting_fault{"a", "above 0"});
static_assert(setting_fault{"a", "above 0"} != setting_fault{"a", "above 1"});

TEST(setting_fault, names_what_and_how) {
  constexpr setting_fault f{"rule.mean", "above 0 s"};
  EXPECT_EQ(f.name, "rule.mean");
  EXPECT_EQ(f.must_be, "above 0 s");
}

}  // namespace
}  // namespace stilling
