// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#include "typed_note.hpp"

#include <gtest/gtest.h>

namespace stilling::command {
namespace {

TEST(note_meant_by, expands_short_words) {
  EXPECT_EQ(note_meant_by("air"), "adjusted air");
  EXPECT_EQ(note_meant_by("  Air  a quarter turn "), "adjusted air  a quarter turn");
  EXPECT_EQ(note_meant_by("draft"), "adjusted draft");
  EXPECT_EQ(note_meant_by("zero"), "draft zeroed");
  EXPECT_EQ(note_meant_by("in"), "probe in");
  EXPECT_EQ(note_meant_by("oil"), "oil spot");
  EXPECT_EQ(note_meant_by("on"), "burner on");
  EXPECT_EQ(note_meant_by("off"), "burner off");
}

TEST(note_meant_by, leaves_what_says_something_already) {
  for (const auto* as_is : {"smoke 1", "smoke trace", "fresh air", "reading", "adjusted air",
                            "draft over fire -0.02", "in the cellar it smells", "oil pressure 100",
                            "airy room", "draft zeroed", "nozzle 0.85 80A"})
    EXPECT_EQ(note_meant_by(as_is), as_is);
}

TEST(note_meant_by, takes_marks_and_controls_away) {
  EXPECT_EQ(note_meant_by("# air"), "adjusted air");
  EXPECT_EQ(note_meant_by("   "), "");
  EXPECT_EQ(note_meant_by("a\xE2\x80\xAE" "b"), "ab");
}

TEST(typed_line, takes_letters_and_ends_with_enter) {
  typed_line l;
  EXPECT_EQ(l.take("smoke 1\rq"), 8U);
  EXPECT_EQ(l.is(), typed_line::state::entered);
  EXPECT_EQ(l.text(), "smoke 1");
}

TEST(typed_line, rubs_out_whole_letters_words_and_all) {
  typed_line l;
  l.take("qu\xC3\xA4\x7f");
  EXPECT_EQ(l.text(), "qu");
  l.take("a one two\x17");
  EXPECT_EQ(l.text(), "qua one ");
  l.take("\x15");
  EXPECT_EQ(l.text(), "");
  l.take("\x7f\x7f");
  EXPECT_EQ(l.is(), typed_line::state::open);
}

TEST(typed_line, is_given_up_by_escape_but_not_by_an_arrow) {
  typed_line l;
  l.take("a\x1b[Ab\x1bOC\x1b[1;5D");
  EXPECT_EQ(l.text(), "ab");
  EXPECT_EQ(l.is(), typed_line::state::open);
  l.take("\x1b");
  EXPECT_EQ(l.is(), typed_line::state::given_up);
}

TEST(typed_line, has_an_end) {
  typed_line l;
  l.take(std::string(1000, 'x'));
  EXPECT_EQ(l.text().size(), typed_line::most);
}

}  // namespace
}  // namespace stilling::command
