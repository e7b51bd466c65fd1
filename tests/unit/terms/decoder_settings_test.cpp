// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#include "stilling/terms/decoder_settings.hpp"

#include <gtest/gtest.h>

#include <type_traits>

namespace stilling {
namespace {

static_assert(std::is_trivially_copyable_v<decoder_settings>, "it lives in a bare session");

TEST(decoder_settings, ask_for_nothing_by_default) {
  const decoder_settings s;
  EXPECT_TRUE(s.fields.empty() && s.time_format.empty());
  EXPECT_EQ(s.rule_count, 0);
  EXPECT_FALSE(s.is_missing(0));
}

TEST(decoder_settings, hold_as_many_rules_as_there_is_room_for) {
  decoder_settings s;
  for (std::size_t i = 0; i < s.rules.size(); ++i) EXPECT_TRUE(s.add({.name = "x"}));
  EXPECT_FALSE(s.add({.name = "x"}));
}

TEST(decoder_settings, know_stand_ins_by_their_number) {
  decoder_settings s;
  s.missing[s.missing_count++] = 999.0;
  s.missing[s.missing_count++] = -3276.8;
  EXPECT_TRUE(s.is_missing(999));
  EXPECT_TRUE(s.is_missing(-3276.8));
  EXPECT_FALSE(s.is_missing(999.1));
}

}  // namespace
}  // namespace stilling
