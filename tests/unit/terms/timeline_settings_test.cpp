// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#include "stilling/terms/timeline_settings.hpp"

#include <gtest/gtest.h>

namespace stilling {
namespace {

static_assert(timeline_settings{}.longest_silence == seconds(24 * 3600), "a night is a silence");

TEST(timeline_settings, neither_spread_nor_hold_unless_told) {
  EXPECT_FALSE(timeline_settings{}.spacing.has_value());
  EXPECT_FALSE(timeline_settings{}.hold.has_value());
}

}  // namespace
}  // namespace stilling
