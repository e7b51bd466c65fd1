// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT

#include "stilling/stages/foresight.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <memory>
#include <type_traits>
#include <vector>

#include "support/flue.hpp"

namespace stilling {
namespace {

using invented::at;
using invented::when;

static_assert(std::is_trivially_copyable_v<foresight>);
static_assert(accepts<foresight, verdict> && !accepts<foresight, frame>);
static_assert(std::same_as<foresight::emits, items<verdict, forecast>>);

struct watched {
  explicit watched(const forecast_settings& s = {}) : stage{std::make_unique<foresight>(s)} {}

  void push(double t, double stack, phase in, judgement is = judgement::transient) {
    verdict v;
    v.row = invented::row(t, channel::stack_temp, stack);
    v.in = in;
    trend_estimate now;
    now.is = is;
    if (departs) now.departed = v.row.at;
    departs = false;
    v.trends.set(channel::stack_temp, now);
    stage->push(v, overloaded{[&](const verdict&) { ++passed; },
                              [&](const forecast& f) { said.push_back(f); }});
  }
  /// 300 K of rise to 600 K with 100 s, from `from` on.
  void rise(double from, double to, phase in = phase::appliance_warm_up) {
    for (double t = from; t < to; t += 1)
      push(t, 600 - 300 * std::exp(-(t - from) / 100) + 0.3 * draw(), in);
  }

  std::unique_ptr<foresight> stage;
  invented::noise draw{1};
  std::vector<forecast> said;
  int passed = 0;
  bool departs = false;
};

TEST(foresight, lets_verdicts_through_and_speaks_now_and_then) {
  watched w;
  w.rise(0, 301);
  EXPECT_EQ(w.passed, 301);
  ASSERT_GE(w.said.size(), 6U);
  ASSERT_LE(w.said.size(), 10U);
  for (std::size_t i = 1; i < w.said.size(); ++i)
    EXPECT_GE(w.said[i].at - w.said[i - 1].at, seconds(30));
  const auto& f = w.said.back().channels[channel::stack_temp];
  EXPECT_LE(f.value.low, 600.5);
  EXPECT_GE(f.value.high, 599.5);
  // 300/100 e^(-t/100) = 3/1.8/60 at t = 100 ln 108.
  EXPECT_NEAR(when(f.settles), 100 * std::log(108), 15);
  EXPECT_LT(f.settles_low, f.settles);
  EXPECT_LT(f.settles, f.settles_high);
}

TEST(foresight, is_silent_where_nothing_is_to_come) {
  watched w;
  for (const phase p : {phase::no_data, phase::idle, phase::fresh_air, phase::steady,
                        phase::cooling, phase::instrument_warm_up})
    w.rise(0, 200, p);
  EXPECT_TRUE(w.said.empty());
}

TEST(foresight, makes_none_where_none_is_wanted) {
  forecast_settings s;
  s.channels = {};
  watched w{s};
  w.rise(0, 301);
  EXPECT_TRUE(w.said.empty());
  EXPECT_EQ(w.passed, 301);
}

TEST(foresight, needs_none_for_a_channel_that_is_steady) {
  watched w;
  for (double t = 0; t < 300; t += 1)
    w.push(t, 600 - 300 * std::exp(-t / 100), phase::settling, judgement::steady);
  EXPECT_TRUE(w.said.empty());
}

TEST(foresight, begins_again_with_a_departure_and_with_a_phase) {
  watched w;
  w.rise(0, 600);
  w.departs = true;
  const auto before = w.said.size();
  w.rise(600, 800, phase::settling);
  ASSERT_GT(w.said.size(), before);
  EXPECT_NEAR(w.said.back().channels[channel::stack_temp].value.middle, 600, 5);
  w.push(800, 600, phase::steady);
  const auto at_steady = w.said.size();
  w.rise(801, 825, phase::disturbed);
  EXPECT_EQ(w.said.size(), at_steady) << "a new beginning, and too few rows";
}

TEST(foresight, is_as_new_after_finish) {
  watched w, fresh;
  w.rise(0, 100);
  w.stage->finish(any_sink{});
  w.said.clear();
  w.draw = fresh.draw;
  w.rise(1000, 1200);
  fresh.rise(1000, 1200);
  EXPECT_EQ(w.said, fresh.said);
}

}  // namespace
}  // namespace stilling
