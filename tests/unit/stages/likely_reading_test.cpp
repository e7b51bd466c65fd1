// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT

#include "stilling/stages/likely_reading.hpp"

#include <gtest/gtest.h>

#include <cstddef>
#include <type_traits>
#include <vector>

#include "support/flue.hpp"

namespace stilling {
namespace {

static_assert(std::is_trivially_copyable_v<likely_reading>);

using invented::at;
using invented::ppm;

observation found(finding_kind what, channel of, double value, double u) {
  return {at(60), 7, what, of, false, value, u, {}, {}, 0};
}

settled_reading reading(double declared) {
  settled_reading r;
  r.declared = at(declared);
  channel_reading o2, co;
  o2.mean = 0.05;
  o2.standard_uncertainty = 0.0003;
  co.mean = 38 * ppm;
  co.standard_uncertainty = 0.3 * ppm;
  r.channels.set(channel::o2, o2);
  r.channels.set(channel::co, co);
  return r;
}

/// What is told beside what went in.
template <class... Items> std::vector<observation> told_of(const Items&... each) {
  std::vector<observation> told;
  std::size_t passed = 0;
  likely_reading stage;
  const auto sink = overloaded{[&](const observation& o) {
                                 if (o.indicated) told.push_back(o);
                                 else ++passed;
                               },
                               [&](const settled_reading&) { ++passed; }};
  (stage.push(each, sink), ...);
  EXPECT_EQ(passed, sizeof...(each));
  return told;
}

// The article behind case 016 of tests/cases: zeroed in 12 ppm, so 38 is likely 50.
TEST(likely_reading, carbon_monoxide_with_its_zero_put_right) {
  const auto told =
      told_of(found(finding_kind::zeroed_in_dirty_air, channel::co, -12 * ppm, 0.4 * ppm),
              reading(225));
  ASSERT_EQ(told.size(), 1U);
  EXPECT_EQ(told[0].what, finding_kind::zeroed_in_dirty_air);
  EXPECT_EQ(told[0].at, at(225));
  EXPECT_NEAR(*told[0].value, 50 * ppm, 1e-15);
  EXPECT_NEAR(*told[0].indicated, 38 * ppm, 1e-15);
  EXPECT_FALSE(told[0].otherwise);
  EXPECT_NEAR(*told[0].standard_uncertainty, 0.5 * ppm, 1e-12) << "one look, in full: 0.3 and 0.4";
}

// Case 017: 20.1 % in air; 5.00 is 5.199 by a loss of sensitivity, 5.8 by a shift.
TEST(likely_reading, oxygen_both_ways) {
  const auto told = told_of(
      found(finding_kind::oxygen_cell_tired, channel::o2, 0.201, 0.0003), reading(225));
  ASSERT_EQ(told.size(), 1U);
  EXPECT_NEAR(*told[0].value, 0.05199, 5e-6);
  EXPECT_NEAR(*told[0].otherwise, 0.058, 1e-12);
  EXPECT_GT(*told[0].value + 2 * *told[0].standard_uncertainty, 0.058);
}

TEST(likely_reading, is_told_once_for_a_plateau) {
  auto closed = reading(225);
  closed.to = at(400);
  const auto off = found(finding_kind::zeroed_in_dirty_air, channel::co, -12 * ppm, 0);
  EXPECT_EQ(told_of(off, reading(225), closed, reading(600)).size(), 2U);
}

TEST(likely_reading, is_not_told_of_a_sound_cell_nor_of_a_corrected_reading) {
  EXPECT_TRUE(told_of(reading(225)).empty());
  auto corrected = reading(225);
  corrected.channels.slots[index_of(channel::co)].correction = 12 * ppm;
  const auto off = found(finding_kind::zeroed_in_dirty_air, channel::co, -12 * ppm, 0);
  EXPECT_TRUE(told_of(off, corrected).empty());
}

}  // namespace
}  // namespace stilling
