// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#include "stilling/decoding/letters.hpp"

#include <gtest/gtest.h>

#include <string>

namespace stilling {
namespace {

static_assert(wide_letter("\xC2\xB0") == 2 && wide_letter("\xE2\x84\x89") == 3);
static_assert(wide_letter("a") == 0 && wide_letter("") == 0 && wide_letter("\xC2") == 0);

TEST(wide_letter, takes_well_formed_letters_only) {
  EXPECT_EQ(wide_letter("\xF0\x9F\x94\xA5"), 4U);
  // Table 3-7 of the Unicode standard: overlong, surrogates, beyond U+10FFFF.
  for (auto s : {"\xC0\xAF", "\xE0\x80\xAF", "\xED\xA0\x80", "\xF4\x90\x80\x80", "\xF0\x80\x80\x80",
                 "\xB0", "\xC2x", "\xE2\x84", "\xC2\x85", "\xEF\xBF\xBD"})
    EXPECT_EQ(wide_letter(s), 0U) << s;
}

TEST(plain_text, writes_what_is_meant_and_leaves_the_rest) {
  EXPECT_EQ(plain_text{"\xE2\x88\x92"
                       "5\xC2\xA0\xC2\xB0"
                       "F"}
                .view(),
            "-5 \xC2\xB0"
            "F");
  EXPECT_EQ(plain_text{"CO\xE2\x82\x82"}.view(), "CO2");
  EXPECT_EQ(plain_text{"\xE2\x82\x8A"}.view(), "\xE2\x82\x8A") << "no digit";
  EXPECT_EQ(plain_text{"\xB0"
                       "F"}
                .view(),
            "\xB0"
            "F");
  EXPECT_TRUE(plain_text{std::string(96, 'x')}.whole());
  EXPECT_FALSE(plain_text{std::string(97, 'x')}.whole());
  EXPECT_TRUE(has_wide_letter("5 \xB0"));
  EXPECT_FALSE(has_wide_letter("5 F"));
}

}  // namespace
}  // namespace stilling
