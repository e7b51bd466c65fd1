// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT

#include "stilling/stages/drift_correction.hpp"

#include <gtest/gtest.h>

#include <array>
#include <cmath>
#include <type_traits>

#include "support/flue.hpp"

namespace stilling {
namespace {

static_assert(std::is_trivially_copyable_v<drift_correction> &&
              std::is_trivially_copyable_v<drift_uncertainty>);

using invented::ppm;

bookend air(double mean, double u = 0) {
  bookend b;
  b.is = bookend_fault::none;
  b.mean = mean;
  b.standard_uncertainty = u;
  return b;
}

bookends part(double o2_before, double o2_after, double co_before, double co_after,
              double u = 0) {
  bookends b;
  b.of.set(channel::o2, {air(o2_before), air(o2_after)});
  b.of.set(channel::co, {air(co_before, u), air(co_after, u)});
  return b;
}

frame corrected(drift_correction& stage, const frame& f) {
  frame out;
  stage.push(f, [&](const frame& g) { out = g; });
  return out;
}

TEST(drift_correction, keeps_the_indication_and_says_what_to_add) {
  const std::array known{part(0.201, 0.201, -12 * ppm, -12 * ppm)};
  drift_correction stage{known};
  const frame f = invented::row(1, {500, 294, 0.05, 38 * ppm});
  const frame g = corrected(stage, f);
  EXPECT_EQ(g.indication, f.indication);
  EXPECT_NEAR(g.corrected(channel::o2), 0.05 * 20.9 / 20.1, 1e-12);
  EXPECT_NEAR(g.corrected(channel::co), 50 * ppm, 1e-15);
  EXPECT_EQ(g.correction[index_of(channel::stack_temp)], 0);
}

TEST(drift_correction, without_two_bookends_nothing_changes) {
  auto one = part(0.201, 0.201, -12 * ppm, -12 * ppm);
  for (const channel c : {channel::o2, channel::co})
    one.of.slots[index_of(c)].after.is = bookend_fault::absent;
  const std::array known{one};
  drift_correction stage{known};
  const frame f = invented::row(1, {});
  EXPECT_EQ(corrected(stage, f), f);
  drift_correction nothing_known{{}};
  EXPECT_EQ(corrected(nothing_known, f), f);
}

TEST(drift_correction, each_part_has_its_own) {
  const std::array known{part(0.209, 0.209, 0, 2 * ppm), part(0.209, 0.209, 6 * ppm, 6 * ppm)};
  drift_correction stage{known};
  const frame f = invented::row(1, {});
  EXPECT_NEAR(corrected(stage, f).correction[index_of(channel::co)], -1 * ppm, 1e-15);
  stage.interrupt({}, any_sink{});
  EXPECT_NEAR(corrected(stage, f).correction[index_of(channel::co)], -6 * ppm, 1e-15);
  stage.interrupt({}, any_sink{});
  EXPECT_EQ(corrected(stage, f), f);
  stage.finish(any_sink{});
  EXPECT_NEAR(corrected(stage, f).correction[index_of(channel::co)], -1 * ppm, 1e-15);
}

TEST(drift_uncertainty, a_reading_says_what_is_correction_and_what_that_leaves_open) {
  const std::array known{part(0.209, 0.209, 0, 6 * ppm, 0.4 * ppm)};
  drift_uncertainty stage{known};
  settled_reading r;
  channel_reading co;
  co.mean = 17 * ppm;  // 20 indicated
  co.standard_uncertainty = 0.3 * ppm;
  co.degrees_of_freedom = 20;
  r.channels.set(channel::co, co);
  channel_reading stack;
  stack.mean = 500;
  r.channels.set(channel::stack_temp, stack);
  settled_reading out;
  stage.push(r, [&](const settled_reading& x) { out = x; });
  EXPECT_TRUE(out.drift_corrected);
  const auto& y = out.channels[channel::co];
  EXPECT_EQ(y.mean, co.mean);
  EXPECT_NEAR(*y.correction, -3 * ppm, 1e-15);
  // 0.3 of the reading, 0.4/sqrt(2) of the checks, 6/sqrt(12) of the course between them.
  EXPECT_NEAR(y.standard_uncertainty, std::sqrt(0.09 + 0.08 + 3) * ppm, 1e-12);
  EXPECT_GT(y.degrees_of_freedom, 20);
  EXPECT_EQ(out.channels[channel::stack_temp], stack);
}

}  // namespace
}  // namespace stilling
