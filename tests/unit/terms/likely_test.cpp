// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT

#include "stilling/terms/likely.hpp"

#include <gtest/gtest.h>

#include <type_traits>

namespace stilling {
namespace {

static_assert(std::is_trivially_copyable_v<likely>);
static_assert(name_of(forecast_fit::if_no_slower_part) == "if_no_slower_part");
static_assert(name_of(forecast_fit::single) == "single");
static_assert(name_of(forecast_fit::does_not_fit) == "does_not_fit");

TEST(likely, is_equal_where_all_three_are) {
  EXPECT_EQ((likely{2, 1, 3}), (likely{2, 1, 3}));
  EXPECT_NE((likely{2, 1, 3}), (likely{2, 1, 4}));
}

}  // namespace
}  // namespace stilling
