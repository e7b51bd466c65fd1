// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT

#include "stilling/items/observation.hpp"

#include <gtest/gtest.h>

#include <type_traits>

#include "stilling/combustion/advice.hpp"

namespace stilling {
namespace {

static_assert(std::is_trivially_copyable_v<observation>);
static_assert(!observation{}.value && !observation{}.standard_uncertainty && !observation{}.limit,
              "unknown is not zero");

TEST(observation, has_a_name_and_advice_for_all_it_can_be_about) {
  for (std::size_t i = 0; i < finding_kind_count; ++i) {
    const auto k = static_cast<finding_kind>(i);
    EXPECT_EQ(advice_on(k).is, k);
    EXPECT_FALSE(advice_on(k).check_first.empty()) << name_of(k);
  }
}

}  // namespace
}  // namespace stilling
