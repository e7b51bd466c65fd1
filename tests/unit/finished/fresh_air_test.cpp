// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT

#include "stilling/finished/fresh_air.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <vector>

#include "support/flue.hpp"

namespace stilling {
namespace {

using invented::at;
using invented::percent;
using invented::ppm;
using invented::when;

/// Frames and notes through the judge; what is found of fresh air.
class looked_for {
 public:
  void hold(double from, double to, const invented::flue& f) {
    for (double t = from; t < to; t += 1) push(quiet_(t, f));
  }
  void push(const frame& f) { chain_.push(f, hears()); }
  void note_at(double t, std::string_view text) { chain_.push(note{0, at(t), text}, hears()); }
  void breaks_off() { chain_.push(discontinuity{}, hears()); }
  const bookends& finish() {
    chain_.finish(hears());
    return parts.back();
  }
  [[nodiscard]] static const bookend_pair& of(channel c, const bookends& b) { return b.of[c]; }

  std::vector<bookends> parts;

 private:
  struct ear {
    std::vector<bookends>* to;
    void operator()(const bookends& b) const { to->push_back(b); }
    void operator()(const auto&) const {}
  };
  ear hears() { return {&parts}; }

  invented::quiet_flue quiet_{1, true};
  decltype(make_judge({}) | fresh_air{{}}) chain_{make_judge({}) | fresh_air{{}}};
};

constexpr invented::flue air_before{294, 294, 0.207, -3 * ppm};
constexpr invented::flue air_after{294, 294, 0.203, 2 * ppm};

TEST(fresh_air, before_the_first_fire_and_after_the_last) {
  looked_for x;
  x.hold(0, 90, air_before);
  x.hold(90, 500, {});
  x.hold(500, 620, air_after);
  const auto& found = x.finish();
  const auto& [before, after] = found.of[channel::o2];
  ASSERT_TRUE(found.of[channel::o2].complete() && found.of[channel::co].complete());
  EXPECT_NEAR(before.mean, 20.7 * percent, 2 * before.standard_uncertainty + 1e-9);
  EXPECT_NEAR(after.mean, 20.3 * percent, 2 * after.standard_uncertainty + 1e-9);
  EXPECT_LE(before.standard_uncertainty, 0.1 * percent);
  EXPECT_LT(when(before.to), 90 - 15) << "the gas is there before the fire is known";
  EXPECT_GE(when(after.from), 500);
  EXPECT_NEAR(found.of[channel::co].before.mean, -3 * ppm, 1 * ppm);
  EXPECT_NEAR(found.of[channel::co].after.mean, 2 * ppm, 1 * ppm);
}

TEST(fresh_air, what_the_person_calls_so_is_taken_and_nothing_else) {
  looked_for x;
  x.hold(0, 60, {294, 294, 0.201, 0});  // a probe in a cold flue
  x.note_at(60, "fresh air");
  x.hold(60, 130, air_before);
  x.note_at(130, "probe in");
  x.hold(130, 160, {294, 294, 0.201, 0});
  x.hold(160, 400, {});
  const auto& before = x.finish().of[channel::o2].before;
  ASSERT_EQ(before.is, bookend_fault::none);
  EXPECT_GE(when(before.from), 60);
  EXPECT_LT(when(before.to), 130);
  EXPECT_NEAR(before.mean, 20.7 * percent, 0.05 * percent);
}

TEST(fresh_air, the_persons_word_is_enough_where_no_stack_is_measured) {
  for (const bool says_so : {false, true}) {
    looked_for x;
    const auto hold = [&](double from, double to, double oxygen, double monoxide) {
      for (double t = from; t < to; t += 1) {
        frame f = invented::row(t, channel::o2, oxygen);
        f.indication.set(channel::co, monoxide);
        x.push(f);
      }
    };
    hold(0, 90, 0.207, 0);
    hold(90, 400, 0.05, 20 * ppm);
    if (says_so) x.note_at(400, "fresh air");
    hold(400, 520, 0.203, 0);
    EXPECT_EQ(x.finish().of[channel::o2].after.is,
              says_so ? bookend_fault::none : bookend_fault::absent);
  }
}

TEST(fresh_air, a_cell_that_still_comes_back_is_waited_for) {
  looked_for x;
  x.hold(0, 90, air_before);
  x.hold(90, 400, {});
  for (double t = 400; t < 560; t += 1) {
    const double left = std::exp(-(t - 400) / 15);
    x.push(invented::row(t, {294, 294, 0.203 - 0.153 * left, (2 + 18 * left) * ppm}));
  }
  const auto& found = x.finish();
  ASSERT_EQ(found.of[channel::o2].after.is, bookend_fault::none);
  EXPECT_GT(when(found.of[channel::o2].after.from), 430);
  EXPECT_NEAR(found.of[channel::o2].after.mean, 20.3 * percent, 0.02 * percent);
}

TEST(fresh_air, says_why_there_is_none) {
  looked_for never;
  never.hold(0, 300, {});
  EXPECT_EQ(never.finish().of[channel::o2].before.is, bookend_fault::absent);
  looked_for one;
  one.hold(0, 90, air_before);
  one.hold(90, 300, {});
  EXPECT_EQ(one.finish().of[channel::co].after.is, bookend_fault::absent);
  looked_for brief;
  brief.hold(0, 90, air_before);
  brief.hold(90, 400, {});
  brief.hold(400, 412, air_after);
  EXPECT_EQ(brief.finish().of[channel::o2].after.is, bookend_fault::too_short);
  looked_for moving;
  for (double t = 0; t < 90; t += 1)
    moving.push(invented::row(t, {294, 294, 0.201 + 0.00005 * t, 0}));  // 0.3 %/min
  moving.hold(90, 400, {});
  EXPECT_EQ(moving.finish().of[channel::o2].before.is, bookend_fault::moves);
}

TEST(fresh_air, a_fire_after_the_last_air_takes_it_away) {
  looked_for x;
  x.hold(0, 90, air_before);
  x.hold(90, 400, {});
  x.hold(400, 500, air_after);
  x.hold(500, 700, {});
  EXPECT_EQ(x.finish().of[channel::o2].after.is, bookend_fault::absent);
}

TEST(fresh_air, is_told_of_each_part_and_nothing_reaches_across_a_break) {
  looked_for x;
  x.hold(0, 90, air_before);
  x.hold(90, 300, {});
  x.breaks_off();
  x.hold(301, 400, {});
  x.hold(400, 520, air_after);
  x.finish();
  ASSERT_EQ(x.parts.size(), 2U);
  EXPECT_EQ(x.parts[0].of[channel::o2].before.is, bookend_fault::none);
  EXPECT_EQ(x.parts[0].of[channel::o2].after.is, bookend_fault::absent);
  EXPECT_EQ(x.parts[1].of[channel::o2].before.is, bookend_fault::absent);
  EXPECT_EQ(x.parts[1].of[channel::o2].after.is, bookend_fault::none);
}

}  // namespace
}  // namespace stilling
