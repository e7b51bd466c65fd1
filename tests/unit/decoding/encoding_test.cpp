// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#include "stilling/decoding/encoding.hpp"

#include <gtest/gtest.h>

#include <string>

namespace stilling {
namespace {

using namespace std::string_literals;

std::string text_of(const std::string& bytes, std::size_t piece = 1000) {
  std::string out;
  encoding e;
  const auto take = [&](std::string_view s) { out += s; };
  for (std::size_t at = 0; at < bytes.size(); at += piece)
    e.push(std::string_view{bytes}.substr(at, piece), take);
  e.finish(take);
  return out;
}

TEST(encoding, passes_bytes_on_as_they_are) {
  EXPECT_EQ(text_of("a\xB0"
                    "b\xFF"s),
            "a\xB0"
            "b\xFF"s);
  EXPECT_EQ(text_of("a"s), "a") << "shorter than what is looked at";
  EXPECT_EQ(text_of("\xEF\xBB"s), "\xEF\xBB"s) << "the beginning of a mark is no mark";
  EXPECT_EQ(text_of("\0\0\0\0ab"s), "\0\0\0\0ab"s) << "padding is no UTF-16";
}

TEST(encoding, widens_utf16_with_letters_beyond_16_bits) {
  const auto want =
      "\xC2\xB0"
      "F \xE2\x84\x83 \xF0\x9F\x94\xA5"s;  // degree, celsius sign, fire
  EXPECT_EQ(text_of("\xFF\xFE\xB0\0F\0 \0\x03\x21 \0\x3D\xD8\x25\xDD"s), want);
  EXPECT_EQ(text_of("\xFE\xFF\0\xB0\0F\0 \x21\x03\0 \xD8\x3D\xDD\x25"s), want);
}

TEST(encoding, marks_half_letters_as_damage) {
  const auto damage = "\xEF\xBF\xBD"s;
  EXPECT_EQ(text_of("\xFF\xFE"
                    "a\0b"s),
            "a" + damage)
      << "half a unit";
  EXPECT_EQ(text_of("\xFF\xFE\x3D\xD8"
                    "a\0"s),
            damage + "a")
      << "first half alone";
  EXPECT_EQ(text_of("\xFF\xFE\x25\xDD"
                    "a\0"s),
            damage + "a")
      << "second half alone";
}

TEST(encoding, does_not_care_where_the_bytes_are_cut) {
  std::string wide = "\xFF\xFE"s;
  for (int i = 0; i < 600; ++i) wide += "\xB0\0\x3D\xD8\x25\xDD"s;
  for (std::size_t piece : {1U, 2U, 3U, 5U, 255U, 256U, 257U})
    EXPECT_EQ(text_of(wide, piece), text_of(wide)) << piece;
}

}  // namespace
}  // namespace stilling
