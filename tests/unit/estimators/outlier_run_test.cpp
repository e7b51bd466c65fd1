// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT

#include "stilling/estimators/outlier_run.hpp"

#include <gtest/gtest.h>

#include <string_view>
#include <type_traits>

namespace stilling {
namespace {

static_assert(std::is_trivially_copyable_v<outlier_run>);
static_assert(outlier_run{}.rows() == 0 && outlier_run{}.rare());

/// A row a second from 0 s: x an outlier, a dot none.
constexpr outlier_run after(std::string_view rows) {
  outlier_run o;
  instant t{};
  for (const char row : rows) {
    o.update(t, row == 'x');
    t += seconds(1);
  }
  return o;
}
static_assert(after("..xx").rows() == 2);

TEST(outlier_run, counts_those_on_end) {
  EXPECT_EQ(after("..xxx").rows(), 3U);
  EXPECT_EQ(after("..xxx").since(), instant{seconds(2)});
  EXPECT_EQ(after("..xx.x").rows(), 1U);
  EXPECT_EQ(after("..xx.x").since(), instant{seconds(5)});
  EXPECT_EQ(after("..xxx.").rows(), 0U);
}

TEST(outlier_run, knows_whether_spikes_are_common) {
  EXPECT_TRUE(after("....................").rare());
  EXPECT_TRUE(after("....x...............").rare()) << "one is no habit";
  EXPECT_FALSE(after("....x....x....x.....").rare());
  EXPECT_TRUE(after("....xxxxxxxx........").rare()) << "a step is no spike";
}

TEST(outlier_run, forgets_old_spikes) {
  auto o = after("..x..x..x..");
  ASSERT_FALSE(o.rare());
  for (int i = 0; i < 200; ++i) o.update(instant{seconds(20 + i)}, false);
  EXPECT_TRUE(o.rare());
}

}  // namespace
}  // namespace stilling
