// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#include "stilling/decoding/spelling.hpp"

#include <gtest/gtest.h>

namespace stilling {
namespace {

static_assert(find_marker("") == marker::missing);
static_assert(!find_marker("0") && !find_marker("5.1") && !find_marker("-0.04"));

TEST(marker, tells_missing_from_over_and_under) {
  for (auto s : {"-", "--", "----", "***", "n/a", "N/A", "#N/A", "NaN", "-nan", "INF", "-INF",
                 "--.-", "null", "Err", "?"})
    EXPECT_EQ(find_marker(s), marker::missing) << s;
  for (auto s : {"OVR", "over", "OL", "+OVR", "Hi", "O.L"})
    EXPECT_EQ(find_marker(s), marker::over) << s;
  for (auto s : {"LO", "under", "UdR", "-OVR"}) EXPECT_EQ(find_marker(s), marker::under) << s;
  for (auto s : {".", "+", "abc", "over there and much more than any word of a table could hold",
                 "1-", "nanometre"})
    EXPECT_FALSE(find_marker(s).has_value()) << s;
}

TEST(damage, is_what_no_plain_row_holds) {
  EXPECT_FALSE(has_damage("boot: 80MHz"));
  EXPECT_TRUE(has_damage("4\x1B"));
  EXPECT_TRUE(has_damage("4\xB5"));
  EXPECT_TRUE(has_damage("4\x7F"));
  EXPECT_TRUE(has_damage(std::string_view{"4\0", 2}));
}

TEST(unit_words, are_taken_as_people_write_them) {
  const auto t = quantity::temperature;
  const auto v = quantity::volume_fraction;
  const auto p = quantity::pressure_difference;
  for (auto s : {"F",
                 "\xC2\xB0"
                 "F",
                 "\xB0"
                 "F",
                 "deg F", "degF", "[degF]", "\xC2\xB0 F"})
    EXPECT_EQ(recognise_unit(s, t), unit::fahrenheit) << s;
  for (auto s : {"C",
                 "\xC2\xB0"
                 "C",
                 "Cel", "deg. C"})
    EXPECT_EQ(recognise_unit(s, t), unit::celsius) << s;
  for (auto s : {"%", "vol%", "% vol", "Vol.%"})
    EXPECT_EQ(recognise_unit(s, v), unit::percent) << s;
  for (auto s : {"in. w.c.", "inH2O", "\"WC", "in WC"})
    EXPECT_EQ(recognise_unit(s, p), unit::inch_of_water) << s;
  EXPECT_EQ(recognise_unit("mol/mol", v), unit::fraction);
}

TEST(unit_words, belong_to_their_quantity_and_are_never_half_read) {
  EXPECT_FALSE(recognise_unit("ppm", quantity::temperature));
  EXPECT_FALSE(recognise_unit("", quantity::temperature));
  EXPECT_FALSE(recognise_unit("\xB0", quantity::temperature));
  EXPECT_FALSE(recognise_unit("Fx", quantity::temperature));
  EXPECT_FALSE(
      recognise_unit("\x95"
                     "F",
                     quantity::temperature))
      << "a damaged digit, perhaps";
  EXPECT_EQ(recognise_unit("\x95"
                           "F",
                           quantity::temperature, degree_sign::any_byte),
            unit::fahrenheit);
}

}  // namespace
}  // namespace stilling
