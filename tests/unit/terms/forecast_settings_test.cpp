// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT

#include "stilling/terms/forecast_settings.hpp"

#include <gtest/gtest.h>

namespace stilling {
namespace {

static_assert(forecast_for(session_settings{}).channels == session_settings{}.phase.required);

TEST(forecast_settings, follow_what_must_be_steady_and_its_limits) {
  session_settings s;
  s.require({channel::co2});
  s.limit(channel::co2, 0.125);
  const auto f = forecast_for(s);
  EXPECT_EQ(f.channels, channel_set{channel::co2});
  EXPECT_EQ(f.limits.of(channel::co2), 0.125);
  EXPECT_GT(f.every, duration{0});
}

}  // namespace
}  // namespace stilling
