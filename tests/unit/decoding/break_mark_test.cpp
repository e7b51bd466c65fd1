// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#include "stilling/decoding/break_mark.hpp"

#include <gtest/gtest.h>

#include <string>

#include "support/input_chain.hpp"

namespace stilling {
namespace {

using testing::listen;

static_assert(is_torn("1,5.1\x18") && !is_torn("1,5.1") && !is_torn(""));
static_assert(says_reconnect(" reconnect ") && !says_reconnect("reconnected the hose"));

const std::string head = "time_s,o2_pct,co_ppm\n1,5,21\n2,5,22\n";

TEST(break_mark, keeps_a_torn_line_from_being_read) {
  // Without the mark it is a row with 2 ppm where 23 were sent.
  EXPECT_EQ(listen(head + "3,5,2\n").frames.size(), 3U);
  for (auto end : {"\x18\n4,5,24\n", "\x18\r\n4,5,24\n", "\x18"}) {
    const auto h = listen(head + "3,5,2" + end);
    const bool goes_on = end[1] != '\0';
    EXPECT_EQ(h.values(channel::co, unit::ppm).back(), goes_on ? 24 : 22);
    ASSERT_EQ(h.rejections.size(), 1U);
    EXPECT_EQ(h.rejections[0], (testing::kept_rejection{4, fault::incomplete, 0, "3,5,2"}));
    EXPECT_TRUE(h.breaks.empty()) << "the log goes on";
  }
}

TEST(break_mark, keeps_a_torn_note_and_a_torn_first_line_out) {
  const auto h = listen("0,5,\x18\n" + head + "# adjusted a\x18\n3,5,23\n");
  EXPECT_TRUE(h.notes.empty());
  EXPECT_EQ(h.count(fault::incomplete), 2U);
  EXPECT_EQ(h.frames.size(), 3U);
}

TEST(break_mark, of_a_line_lets_the_rest_of_its_number_be_no_time) {
  const auto h = listen("time_s,o2_pct,co_ppm\n1401,5,21\n14\x18\n02,5,22\n1403,5,23\n");
  EXPECT_EQ(h.seconds(), (std::vector<double>{1401, 1403}));
  EXPECT_TRUE(h.breaks.empty());
}

TEST(break_mark, breaks_the_stream_where_the_source_was_connected_again) {
  const auto h = listen(head + "3,5,2\x18\n# 9.5 reconnect\n9,5,4\n10,5,25\n");
  ASSERT_EQ(h.breaks.size(), 1U);
  EXPECT_EQ(h.breaks[0],
            (testing::kept_break{5, instant{milliseconds(9500)}, break_kind::reconnect, 2}));
  EXPECT_EQ(h.seconds(), (std::vector<double>{1, 2, 10})) << "9,5,4 may lack its beginning";
  EXPECT_EQ(h.count(fault::incomplete), 2U);
  EXPECT_TRUE(h.notes.empty()) << "nobody said it";
}

TEST(break_mark, without_a_time_of_its_own_has_that_of_the_row_before) {
  const auto h = listen(head + "# reconnect\n# reconnect\n0,5,4\n1,5,25\n");
  ASSERT_EQ(h.breaks.size(), 2U);
  EXPECT_EQ(h.breaks[0].at, instant{seconds(2)});
  EXPECT_EQ(h.seconds(), (std::vector<double>{1, 2, 1})) << "its clock may begin anew";
}

TEST(break_mark, lets_the_header_stand_and_come_again) {
  const auto h = listen(head + "# reconnect\n" + head);
  EXPECT_EQ(h.layouts.size(), 1U);
  EXPECT_EQ(h.frames.size(), 4U);
  EXPECT_TRUE(h.rejections.empty());
}

TEST(break_mark, before_the_first_row_breaks_nothing) {
  const auto h = listen("# reconnect\n" + head);
  EXPECT_TRUE(h.breaks.empty());
  EXPECT_EQ(h.frames.size(), 2U);
}

}  // namespace
}  // namespace stilling
