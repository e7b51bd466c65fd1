// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT

#include "waiting.hpp"

#include <gtest/gtest.h>

#include <type_traits>

namespace stilling::c_face {
namespace {

static_assert(std::is_trivially_copyable_v<waiting>);

TEST(waiting, gives_items_back_in_the_order_they_were_said) {
  waiting said;
  stilling_item item;
  EXPECT_FALSE(said.take(item));
  for (std::uint64_t round = 0; round < 50; ++round) {  // more than there are places
    said.add(stilling_phase{.time_ns = 1, .line = round, .from = 0, .phase = 6, .reason = 4,
                            .has_which = 0, .which = 0, .reserved = {}});
    said.add_plateau()->declared_ns = static_cast<std::int64_t>(round);
    said.add_if_room(stilling_rejection{round, 3, 2, {}});
    ASSERT_TRUE(said.take(item));
    EXPECT_EQ(item.kind, STILLING_PHASE);
    EXPECT_EQ(item.of.phase.line, round);
    ASSERT_TRUE(said.take(item));
    EXPECT_EQ(item.kind, STILLING_PLATEAU);
    EXPECT_EQ(item.of.plateau.declared_ns, static_cast<std::int64_t>(round));
    ASSERT_TRUE(said.take(item));
    EXPECT_EQ(item.kind, STILLING_REJECTION);
    EXPECT_EQ(item.of.rejection.line, round);
    EXPECT_TRUE(said.empty());
  }
}

TEST(waiting, a_flood_leaves_room_for_what_must_not_get_lost_and_is_counted) {
  waiting said;
  ASSERT_TRUE(said.has_room());
  for (std::uint64_t i = 0; i < 1000; ++i) said.add_if_room(stilling_rejection{i, 0, 0, {}});
  EXPECT_FALSE(said.has_room());
  for (std::uint64_t i = 0; i < 20; ++i) said.add(stilling_break{0, i, 0});
  stilling_item item;
  std::uint32_t rejections = 0, breaks = 0, lost = 0;
  while (said.take(item)) {
    (item.kind == STILLING_BREAK ? breaks : rejections) += 1;
    lost += item.lost;
  }
  EXPECT_EQ(breaks, 20U);
  EXPECT_EQ(rejections + lost, 1000U);
  EXPECT_GT(lost, 0U);
  EXPECT_TRUE(said.has_room());
}

TEST(waiting, readings_have_room_for_three_at_once) {
  waiting said;
  for (int i = 0; i < 3; ++i) ASSERT_NE(said.add_plateau(), nullptr);
  ASSERT_TRUE(said.has_room());
  ASSERT_NE(said.add_plateau(), nullptr);
  EXPECT_FALSE(said.has_room());
}

}  // namespace
}  // namespace stilling::c_face
