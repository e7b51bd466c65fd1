// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT

#include "stilling/finished/finished_plateaus.hpp"

#include <gtest/gtest.h>

#include <vector>

#include "support/flue.hpp"

namespace stilling {
namespace {

using invented::flue;
using invented::when;

static_assert(accepts<finished_plateaus, verdict> && !accepts<finished_plateaus, frame>);
static_assert(std::same_as<finished_plateaus::emits, items<settled_reading, phase_change>>);

/// Frames through the judge and, in hindsight, the plateaus.
struct heard {
  std::vector<settled_reading> opened, closed;
  std::vector<phase_change> phases;

  void operator()(const settled_reading& r) { (r.to ? closed : opened).push_back(r); }
  void operator()(const phase_change& p) { phases.push_back(p); }
  void operator()(const burn&) {}
  void operator()(const discontinuity&) {}
};

class in_hindsight : public heard {
 public:
  void hold(double from, double to, const flue& f) {
    for (double t = from; t < to; t += 1) chain_.push(quiet_(t, f), hears());
  }
  void finish() { chain_.finish(hears()); }
  void push(const discontinuity& d) { chain_.push(d, hears()); }

 private:
  heard& hears() { return *this; }

  invented::quiet_flue quiet_{1, true};
  decltype(make_judge({}) | finished_plateaus{{}}) chain_{make_judge({}) | finished_plateaus{{}}};
};

TEST(finished_plateaus, say_nothing_before_the_end) {
  in_hindsight x;
  x.hold(0, 400, {});
  EXPECT_TRUE(x.opened.empty() && x.closed.empty() && x.phases.empty());
  x.finish();
  ASSERT_EQ(x.closed.size(), 1U);
  EXPECT_EQ(x.closed[0].ended, cause::end_of_log);
  EXPECT_FALSE(x.closed[0].released);
  EXPECT_EQ(when(*x.closed[0].to), 399);
  EXPECT_LE(when(x.closed[0].declared), 66);
}

TEST(finished_plateaus, open_and_close_each_under_one_moment) {
  in_hindsight x;
  x.hold(0, 300, {});
  x.hold(300, 700, {.stack = 545, .oxygen = 0.065});
  x.finish();
  ASSERT_EQ(x.opened.size(), 2U);
  ASSERT_EQ(x.closed.size(), 2U);
  for (std::size_t i = 0; i < 2; ++i) {
    EXPECT_EQ(x.opened[i].declared, x.closed[i].declared);
    EXPECT_EQ(x.opened[i].ended, cause::none);
    EXPECT_NEAR(x.closed[i].channels[channel::stack_temp].mean, i == 0 ? 520 : 545, 0.5);
  }
  EXPECT_EQ(x.closed[0].ended, cause::departed);
  EXPECT_NEAR(when(*x.closed[0].to), 299, 2);
  EXPECT_NEAR(when(*x.closed[0].released), 300, 2);
  EXPECT_NEAR(when(x.closed[1].declared), 360, 8);
}

TEST(finished_plateaus, tell_the_phases_as_they_were_in_the_end) {
  in_hindsight x;
  x.hold(0, 60, invented::fresh_air);
  x.hold(60, 400, {});
  x.hold(400, 500, {.stack = 420, .oxygen = 0.209, .monoxide = 0});
  x.finish();
  ASSERT_EQ(x.closed.size(), 1U);
  EXPECT_TRUE(x.closed[0].ended == cause::burner_off || x.closed[0].ended == cause::probe_out);
  std::size_t steady = 0;
  for (std::size_t i = 0; i < x.phases.size(); ++i) {
    EXPECT_EQ(x.phases[i].from, i > 0 ? x.phases[i - 1].to : phase::no_data);
    if (x.phases[i].to != phase::steady) continue;
    ++steady;
    EXPECT_EQ(x.phases[i].at, x.closed[0].declared);
  }
  EXPECT_EQ(steady, 1U);
}

TEST(finished_plateaus, conclude_at_a_break_and_begin_again) {
  in_hindsight x;
  x.hold(0, 300, {});
  x.push(discontinuity{301, invented::at(300), break_kind::clock_jump});
  ASSERT_EQ(x.closed.size(), 1U);
  EXPECT_EQ(x.closed[0].ended, cause::stream_broke);
  x.hold(5000, 5300, {});
  x.finish();
  ASSERT_EQ(x.closed.size(), 2U);
  EXPECT_GE(when(x.closed[1].from), 5000);
}

TEST(finished_plateaus, tell_a_silence) {
  in_hindsight x;
  x.hold(0, 300, {});
  x.hold(600, 900, {});
  x.finish();
  ASSERT_EQ(x.closed.size(), 2U);
  EXPECT_EQ(x.closed[0].ended, cause::gap);
  bool told = false;
  for (const auto& p : x.phases) told = told || (p.to == phase::no_data && when(p.at) == 359);
  EXPECT_TRUE(told);
}

TEST(finished_plateaus, say_nothing_of_an_empty_log) {
  in_hindsight x;
  x.finish();
  EXPECT_TRUE(x.closed.empty() && x.phases.empty());
}

}  // namespace
}  // namespace stilling
