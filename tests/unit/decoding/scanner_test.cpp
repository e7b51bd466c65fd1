// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#include "stilling/decoding/scanner.hpp"

#include <gtest/gtest.h>

namespace stilling {
namespace {

TEST(scanner, takes_numbers_of_so_many_digits) {
  scanner s{"20260307x"};
  std::uint32_t n = 0;
  EXPECT_EQ(s.digits_ahead(), 8U);
  EXPECT_TRUE(s.take_number(4, 4, n));
  EXPECT_EQ(n, 2026U);
  EXPECT_TRUE(s.take_number(1, 2, n));
  EXPECT_EQ(n, 3U);
  EXPECT_FALSE(s.take_number(3, 3, n)) << "only two are left";
  EXPECT_EQ(s.taken(), 6U);
}

TEST(scanner, takes_fractions_as_nanoseconds) {
  std::uint32_t n = 0;
  EXPECT_TRUE(scanner{"5"}.take_fraction(n));
  EXPECT_EQ(n, 500'000'000U);
  EXPECT_TRUE(scanner{"1234567899"}.take_fraction(n));
  EXPECT_EQ(n, 123'456'789U);
  EXPECT_FALSE(scanner{"x"}.take_fraction(n));
}

TEST(scanner, takes_words_short_or_in_full) {
  scanner s{"Dec 31"};
  EXPECT_EQ(s.take_word(month_names), 11U);
  EXPECT_EQ(scanner{"DECEMBER"}.take_word(month_names), 11U);
  EXPECT_EQ(scanner{"Sept."}.take_word(month_names), 8U);
  EXPECT_FALSE(scanner{"Decem"}.take_word(month_names));
  EXPECT_FALSE(scanner{"De"}.take_word(month_names));
  EXPECT_EQ(scanner{"Thu,"}.take_word(weekday_names), 3U);
}

TEST(scanner, takes_the_halves_of_a_day) {
  EXPECT_EQ(scanner{"AM"}.take_half(), civil::half::am);
  EXPECT_EQ(scanner{"p.m."}.take_half(), civil::half::pm);
  EXPECT_EQ(scanner{"pmx"}.take_half(), civil::half::whole_day);
  EXPECT_EQ(scanner{"noon"}.take_half(), civil::half::whole_day);
}

TEST(scanner, takes_offsets) {
  const auto offset = [](std::string_view text) -> std::optional<std::int32_t> {
    civil c;
    scanner s{text};
    if (!s.take_offset(c) || !s.rest().empty()) return std::nullopt;
    return c.offset;
  };
  EXPECT_EQ(offset("Z"), 0);
  EXPECT_EQ(offset("UTC"), 0);
  EXPECT_EQ(offset("+01:00"), 3600);
  EXPECT_EQ(offset("-0330"), -12'600);
  EXPECT_EQ(offset("+1"), 3600);
  EXPECT_FALSE(offset("+19:00"));
  EXPECT_FALSE(offset("+01:7"));
  EXPECT_FALSE(offset("Zx"));
  EXPECT_FALSE(offset(""));
}

}  // namespace
}  // namespace stilling
