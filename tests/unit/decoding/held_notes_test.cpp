// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#include "stilling/decoding/held_notes.hpp"

#include <gtest/gtest.h>

#include <string>
#include <vector>

namespace stilling {
namespace {

TEST(held_notes, come_back_in_order_with_the_time_given) {
  held_notes h;
  std::string one = "probe in";
  EXPECT_TRUE(h.keep({.line = 1, .text = one}));
  one = "overwritten";  // the text was copied
  EXPECT_TRUE(h.keep({.line = 2, .text = ""}));
  EXPECT_TRUE(h.keep({.line = 3, .text = "smoke 1"}));
  std::vector<std::string> texts;
  const auto sink = [&](const note& n) {
    EXPECT_EQ(n.at, instant{seconds(7)});
    texts.emplace_back(n.text);
  };
  h.release(instant{seconds(7)}, sink);
  EXPECT_EQ(texts, (std::vector<std::string>{"probe in", "", "smoke 1"}));
  EXPECT_TRUE(h.empty());
}

TEST(held_notes, say_when_they_are_full) {
  held_notes h;
  EXPECT_FALSE(h.keep({.text = std::string_view{std::string(2000, 'x').c_str(), 0}}) &&
               h.keep({.text = std::string(2000, 'x')}));
  int kept = 0;
  while (h.keep({.text = "x"})) ++kept;
  EXPECT_GE(kept, 15);
  EXPECT_LE(kept, 16);
}

}  // namespace
}  // namespace stilling
