// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT

#include "stilling/items/bookends.hpp"

#include <gtest/gtest.h>

#include <type_traits>

namespace stilling {
namespace {

static_assert(std::is_trivially_copyable_v<bookends>);
static_assert(checked_in_air.contains(channel::o2) && checked_in_air.contains(channel::co) &&
              checked_in_air.size() == 2);
// Half the last digit of 20.9 %, and the 20.946 % of dry air (40 CFR 1065.655) within it.
static_assert(0.20946 - oxygen_of_air < oxygen_of_air_within);

TEST(bookends, a_pair_needs_both) {
  bookend_pair p;
  EXPECT_FALSE(p.complete());
  p.before.is = bookend_fault::none;
  EXPECT_FALSE(p.complete());
  p.after.is = bookend_fault::moves;
  EXPECT_FALSE(p.complete());
  p.after.is = bookend_fault::none;
  EXPECT_TRUE(p.complete());
}

}  // namespace
}  // namespace stilling
