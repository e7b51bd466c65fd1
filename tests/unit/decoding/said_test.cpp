// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#include "stilling/decoding/said.hpp"

#include <gtest/gtest.h>

namespace stilling {
namespace {

static_assert(what_was_said("fresh air").what == saying::fresh_air);
static_assert(what_was_said("smoke 7") == said{saying::smoke, 7, false, ""});
static_assert(what_was_said("smoke trace") == said{saying::smoke, 0, true, ""});
static_assert(what_was_said("") == said{});

TEST(said, known_words_are_found_in_any_case_of_letters) {
  EXPECT_EQ(what_was_said("Draft Zeroed").what, saying::draft_zeroed);
  EXPECT_EQ(what_was_said("  PROBE IN ").what, saying::probe_in);
  EXPECT_EQ(what_was_said("adjusted draft").what, saying::adjusted_draft);
  EXPECT_EQ(what_was_said("burner on").what, saying::burner_on);
  EXPECT_EQ(what_was_said("burner off").what, saying::burner_off);
  EXPECT_EQ(what_was_said("oil spot").what, saying::oil_spot);
  EXPECT_EQ(what_was_said("reading").what, saying::reading);
}

TEST(said, what_follows_them_is_kept) {
  EXPECT_EQ(what_was_said("adjusted air a quarter turn open"),
            (said{saying::adjusted_air, 0, false, "a quarter turn open"}));
  EXPECT_EQ(what_was_said("remark: door was open"), (said{saying::remark, 0, false,
                                                          "door was open"}));
  EXPECT_EQ(what_was_said("smoke 2, second paper"), (said{saying::smoke, 2, false,
                                                          ", second paper"}));
}

TEST(said, only_whole_words_count) {
  for (const auto* text : {"readings follow", "burner offset", "smoke 12", "smoke -1", "smoke",
                           "smoke x", "smoked", "fresh airing"})
    EXPECT_EQ(what_was_said(text).what, saying::remark) << text;
  EXPECT_EQ(what_was_said("burner offset").rest, "burner offset");
}

}  // namespace
}  // namespace stilling
