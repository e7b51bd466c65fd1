// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT

#include "stilling/items/forecast.hpp"

#include <gtest/gtest.h>

#include <type_traits>

namespace stilling {
namespace {

static_assert(std::is_trivially_copyable_v<forecast>);

TEST(forecast, without_a_lane_says_nothing) {
  forecast f;
  EXPECT_TRUE(f.channels.valid.empty());
  f.channels.set(channel::o2, {});
  EXPECT_TRUE(f.channels.has(channel::o2));
  EXPECT_NE(f, forecast{});
}

TEST(forecast, of_a_channel_is_conditional_until_more_is_known) {
  EXPECT_EQ(channel_forecast{}.fit, forecast_fit::if_no_slower_part);
}

}  // namespace
}  // namespace stilling
