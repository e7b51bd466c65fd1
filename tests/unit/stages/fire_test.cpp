// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT

#include "stilling/stages/fire.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <string>
#include <type_traits>
#include <vector>

#include "support/flue.hpp"

namespace stilling {
namespace {

using invented::at;
using invented::flue;
using invented::fresh_air;
using invented::row;
using invented::when;

static_assert(std::is_trivially_copyable_v<fire>);
static_assert(accepts<fire, verdict> && !accepts<fire, frame>);
static_assert(std::same_as<fire::emits, items<verdict, burn>>);

struct watched {
  explicit watched(const phase_settings& s = {}) : stage{s} {}
  fire_state push(const frame& f) {
    verdict v;
    v.row = f;
    stage.push(verdict{v}, overloaded{[&](const verdict& out) { now = out.fire; },
                             [&](const burn& b) { burns.push_back(b); }});
    return now;
  }
  /// The same every `every` seconds over [from, to).
  fire_state hold(double from, double to, const flue& f, double every = 1) {
    for (double t = from; t < to; t += every) push(row(t, f));
    return now;
  }
  void finish() {
    stage.finish(overloaded{[](const verdict&) {}, [&](const burn& b) { burns.push_back(b); }});
  }

  fire stage;
  fire_state now;
  std::vector<burn> burns;
};

TEST(fire, is_not_seen_in_fresh_air_or_a_cold_flue) {
  watched w;
  EXPECT_FALSE(w.hold(0, 300, fresh_air).burning);
  EXPECT_FALSE(w.now.has_burned);
  w.finish();
  EXPECT_TRUE(w.burns.empty());
}

TEST(fire, is_seen_by_its_low_oxygen_within_seconds) {
  watched w;
  w.hold(0, 60, fresh_air);
  EXPECT_FALSE(w.push(row(60, {.stack = 330, .oxygen = 0.12})).burning) << "one row is no fire";
  EXPECT_TRUE(w.hold(61, 70, {.stack = 360, .oxygen = 0.06}).burning);
  EXPECT_TRUE(w.now.has_burned);
}

TEST(fire, is_seen_at_once_where_the_log_begins_with_it) {
  watched w;
  EXPECT_TRUE(w.push(row(0, flue{})).burning);
}

TEST(fire, is_not_a_lone_low_reading) {
  watched w;
  w.hold(0, 60, fresh_air);
  w.push(row(60, {.stack = 330, .oxygen = 0.05}));
  EXPECT_FALSE(w.hold(61, 120, fresh_air).burning);
}

TEST(fire, goes_on_between_the_two_levels) {
  watched w;
  w.hold(0, 60, flue{});
  EXPECT_TRUE(w.hold(60, 120, {.oxygen = 0.185}).burning) << "much excess air is a fire still";
  watched cold;
  cold.hold(0, 60, fresh_air);
  EXPECT_FALSE(cold.hold(60, 120, {.stack = 330, .oxygen = 0.185}).burning) << "and no fire yet";
}

TEST(fire, is_not_low_oxygen_in_a_flue_as_cold_as_the_room) {
  watched w;
  w.hold(0, 60, fresh_air);
  EXPECT_FALSE(w.hold(60, 300, {.stack = 295, .ambient = 294, .oxygen = 0.0}).burning)
      << "a dead cell reads zero";
}

TEST(fire, tells_each_burn_from_the_last_air_to_the_last_low_oxygen) {
  watched w;
  w.hold(0, 100, fresh_air);
  w.hold(100, 400, flue{});
  EXPECT_TRUE(w.burns.empty()) << "not over yet";
  w.hold(400, 500, {.stack = 450, .oxygen = 0.208, .monoxide = 0});
  ASSERT_EQ(w.burns.size(), 1U);
  EXPECT_NEAR(when(w.burns[0].from), 100, 1.5);
  ASSERT_TRUE(w.burns[0].to);
  EXPECT_NEAR(when(*w.burns[0].to), 400, 1.5);
  EXPECT_FALSE(w.now.burning);
  EXPECT_TRUE(w.now.has_burned);
  ASSERT_TRUE(w.now.out_since);
  EXPECT_NEAR(when(*w.now.out_since), 400, 1.5);
}

// A stage behind may have a silence to tell first, which the verdict brings to light.
TEST(fire, tells_the_end_of_a_burn_after_the_verdict) {
  fire stage{phase_settings{}};
  std::vector<char> order;
  for (int t = 0; t < 200; ++t) {
    verdict v;
    v.row = row(t, t < 100 ? flue{} : fresh_air);
    stage.push(verdict{v}, overloaded{[&](const verdict&) { order.push_back('v'); },
                             [&](const burn&) { order.push_back('b'); }});
  }
  const std::string said{order.begin(), order.end()};
  const auto end = said.find('b');
  ASSERT_NE(end, std::string::npos);
  EXPECT_EQ(said.substr(end - 1, 3), "vbv");
  EXPECT_EQ(said.size(), 201U) << "one burn";
}

// Behind a sample line and a cell the oxygen takes a minute to rise.
TEST(fire, ends_where_the_oxygen_began_to_rise_however_slowly_it_rises) {
  for (const double tau : {1.0, 10.0, 30.0}) {
    watched w;
    w.hold(0, 300, flue{});
    w.hold(300, 400, {.stack = 480, .oxygen = 0.08});  // another firing stage is no end
    for (int t = 400; t < 700; ++t)
      w.push(row(t, {.stack = 450, .oxygen = 0.209 - 0.129 * std::exp(-(t - 400) / tau)}));
    ASSERT_EQ(w.burns.size(), 1U);
    EXPECT_NEAR(when(*w.burns[0].to), 400, 1 + tau / 8) << tau;
    EXPECT_NEAR(w.burns[0].last[channel::o2], 0.085, 0.0051) << tau;
  }
}

TEST(fire, counts_short_cycles) {
  watched w;
  for (int n = 0; n < 5; ++n) {
    w.hold(360 * n, 360 * n + 180, flue{}, 10);
    w.hold(360 * n + 180, 360 * n + 360, {.stack = 400, .oxygen = 0.209, .monoxide = 0}, 10);
  }
  w.finish();
  ASSERT_EQ(w.burns.size(), 5U);
  for (const auto& b : w.burns) {
    ASSERT_TRUE(b.to);
    EXPECT_NEAR(in_seconds(*b.to - b.from), 180, 11) << "to a row";
  }
}

TEST(fire, leaves_a_burn_open_where_the_log_ends_first) {
  watched w;
  w.hold(0, 100, flue{});
  w.finish();
  ASSERT_EQ(w.burns.size(), 1U);
  EXPECT_EQ(w.burns[0].from, at(0));
  EXPECT_FALSE(w.burns[0].to);
  w.finish();
  EXPECT_EQ(w.burns.size(), 1U) << "and says so once";
}

TEST(fire, tells_each_burn_s_own_peaks_and_last_row) {
  watched w;
  w.hold(0, 60, fresh_air);
  w.hold(60, 70, {.stack = 400, .oxygen = 0.08, .monoxide = 300 * invented::ppm});
  w.hold(70, 199, {.stack = 434, .oxygen = 0.047});
  w.push(row(199, {.stack = 433, .oxygen = 0.048, .monoxide = 21 * invented::ppm}));
  w.hold(200, 300, {.stack = 350, .oxygen = 0.209, .monoxide = 0});
  w.hold(300, 400, {.stack = 430, .oxygen = 0.052});
  w.finish();
  ASSERT_EQ(w.burns.size(), 2U);
  EXPECT_EQ(w.burns[0].peak[channel::stack_temp], 434);
  EXPECT_EQ(w.burns[0].peak[channel::co], 300 * invented::ppm);
  EXPECT_EQ(when(*w.burns[0].to), 199);
  EXPECT_EQ(w.burns[0].last[channel::stack_temp], 433);
  EXPECT_EQ(w.burns[0].last[channel::o2], 0.048);
  EXPECT_EQ(w.burns[0].last[channel::co], 21 * invented::ppm);
  EXPECT_FALSE(w.burns[1].to);
  EXPECT_EQ(w.burns[1].peak[channel::stack_temp], 430) << "nothing of the burn before";
  EXPECT_EQ(w.burns[1].peak[channel::co], 20 * invented::ppm);
  EXPECT_EQ(w.burns[1].last[channel::o2], 0.052);
  EXPECT_FALSE(w.burns[1].peak.has(channel::no)) << "unknown is not zero";
}

TEST(fire, takes_no_outlier_for_a_peak) {
  watched w;
  w.hold(0, 60, flue{});
  frame f = row(60, {.stack = 900});
  f.add_mark(channel::stack_temp, quality::outlier);
  w.push(f);
  w.finish();
  ASSERT_EQ(w.burns.size(), 1U);
  EXPECT_EQ(w.burns[0].peak[channel::stack_temp], flue{}.stack);
}

frame heat_only(double t, double stack) { return row(t, channel::stack_temp, stack); }

TEST(fire, is_told_by_the_heat_where_oxygen_is_not_measured) {
  watched w;
  for (int t = 0; t < 60; ++t) EXPECT_FALSE(w.push(heat_only(t, 295)).burning);
  for (int t = 60; t < 400; ++t) w.push(heat_only(t, 295 + 2.0 * (t - 60 < 100 ? t - 60 : 100)));
  EXPECT_TRUE(w.now.burning);
  for (int t = 400; t < 500; ++t) w.push(heat_only(t, 296));
  EXPECT_FALSE(w.now.burning);
  ASSERT_EQ(w.burns.size(), 1U);
  EXPECT_NEAR(in_seconds(*w.burns[0].to - w.burns[0].from), 340, 30);
}

TEST(fire, goes_by_oxygen_alone_where_it_is_measured) {
  watched w;
  EXPECT_FALSE(w.hold(0, 100, {.stack = 500, .oxygen = 0.209}).burning) << "a hot flue, fire out";
  EXPECT_TRUE(w.now.net);
}

TEST(fire, tells_newest_oxygen_and_net_temperature) {
  watched w;
  w.push(row(0, {.stack = 520, .ambient = 294, .oxygen = 0.05}));
  EXPECT_EQ(w.now.oxygen, 0.05);
  EXPECT_EQ(w.now.net, 226);
  frame f = row(1, {.stack = 5000, .oxygen = 0.9});
  f.add_mark(channel::stack_temp, quality::implausible);
  f.add_mark(channel::o2, quality::implausible);
  w.push(f);
  EXPECT_EQ(w.now.oxygen, 0.05) << "of values that can be believed";
  EXPECT_EQ(w.now.net, 226);
}

TEST(fire, knows_nothing_it_was_not_told) {
  watched w;
  w.push(row(0, channel::co, 20e-6));
  EXPECT_FALSE(w.now.oxygen);
  EXPECT_FALSE(w.now.net);
  EXPECT_FALSE(w.now.burning);
}

}  // namespace
}  // namespace stilling
