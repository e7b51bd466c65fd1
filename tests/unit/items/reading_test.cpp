// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT

#include "stilling/items/reading.hpp"

#include <gtest/gtest.h>

#include <type_traits>

namespace stilling {
namespace {

static_assert(std::is_trivially_copyable_v<settled_reading>,
              "the one thing that crosses can be kept anywhere");
static_assert(std::is_aggregate_v<channel_reading>);

TEST(channel_reading, does_not_claim_what_nobody_measured) {
  const channel_reading r;
  EXPECT_EQ(r.count, 0U);
  EXPECT_FALSE(r.rate_bound);
  EXPECT_FALSE(r.remaining);
  EXPECT_FALSE(r.peak);
  EXPECT_FALSE(r.lag);
}

TEST(settled_reading, is_open_until_it_has_an_end) {
  settled_reading r;
  EXPECT_FALSE(r.to);
  EXPECT_FALSE(r.released);
  EXPECT_EQ(r.ended, cause::none);
  EXPECT_TRUE(r.channels.valid.empty());
}

TEST(settled_reading, a_mean_of_zero_is_not_an_absent_channel) {
  settled_reading r, none;
  channel_reading clean_burn;
  clean_burn.count = 30;
  r.channels.set(channel::co, clean_burn);
  EXPECT_EQ(r.channels[channel::co].mean, 0);
  EXPECT_TRUE(r.channels.has(channel::co));
  EXPECT_NE(r, none);
}

}  // namespace
}  // namespace stilling
