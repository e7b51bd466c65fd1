// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#include "cells.hpp"

#include <gtest/gtest.h>

namespace stilling::command {
namespace {

TEST(cells, counts_letters_wide_letters_and_marks) {
  EXPECT_EQ(cells_of("471.2 ± 0.8 °F"), 14U);
  EXPECT_EQ(cells_of("燃焼"), 4U);
  EXPECT_EQ(cells_of("\U0001F525"), 2U);
  EXPECT_EQ(cells_of("e\xCC\x81"), 1U);  // e and an acute accent on it
  EXPECT_EQ(cells_of("\xFFz"), 2U);      // a stray byte stands as one letter
}

TEST(cut_to, cuts_between_letters_and_shows_it) {
  EXPECT_EQ(cut_to("settled", 7), "settled");
  EXPECT_EQ(cut_to("settled", 6), "settl…");
  EXPECT_EQ(cut_to("燃焼", 3), "燃…");
  EXPECT_EQ(cut_to("燃焼", 2), "…");
  EXPECT_EQ(cut_to("x", 0), "");
}

TEST(padded, is_exactly_as_wide) {
  EXPECT_EQ(padded("°F", 4), "°F  ");
  EXPECT_EQ(padded("燃焼", 3), "燃…");
}

TEST(end_of, keeps_the_end) { EXPECT_EQ(end_of("quärter", 4), "rter"); }

TEST(wrapped, breaks_between_words_and_indents) {
  EXPECT_EQ(wrapped("one two three", 9), (std::vector<std::string>{"one two", "three"}));
  EXPECT_EQ(wrapped("one two three four", 12, 2),
            (std::vector<std::string>{"one two", "  three four"}));
  EXPECT_TRUE(wrapped("   ", 9).empty());
}

TEST(wrapped, breaks_a_word_that_fits_no_line) {
  EXPECT_EQ(wrapped("abcdefgh", 3), (std::vector<std::string>{"abc", "def", "gh"}));
  EXPECT_EQ(wrapped("燃焼", 1).size(), 2U);  // wider than the room: one letter to a line
}

TEST(plain_letters, take_away_what_moves_or_hides) {
  EXPECT_EQ(plain_letters("a\xE2\x80\xAE" "b\xE2\x80\x8B" "c"), "abc");
  EXPECT_EQ(plain_letters("\x1b[2J").find('\x1b'), std::string::npos);
}

TEST(in_ascii, spells_what_can_be_spelled) {
  EXPECT_EQ(in_ascii("471 ± 1 °F …"), "471 +- 1 deg F .");
  EXPECT_EQ(in_ascii("燃e\xCC\x81"), "?e");
}

}  // namespace
}  // namespace stilling::command
