// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT

// Hindsight agrees with what was said live: what was settled then is settled in the end, no later
// than half the longest window after it was said, and reads the same.

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <vector>

#include "stilling/finished/finished_plateaus.hpp"
#include "support/flue.hpp"

namespace stilling {
namespace {

using invented::flue;
using invented::when;

constexpr double half_window = 90;  // seconds; the longest window is 180

/// A cold start, two adjustments of the air, a burner that goes off: towards each new level with
/// the time constants of a stack, a sample line and a cell.
std::vector<frame> visit(std::uint64_t seed) {
  invented::quiet_flue quiet{seed, true};
  const double u = static_cast<double>(seed % 10) / 10;
  const flue cold = invented::fresh_air, first{.stack = 500 + 20 * u, .oxygen = 0.05},
             second{.stack = 520 + 20 * u, .oxygen = 0.065, .monoxide = 15e-6},
             third{.stack = 530 + 20 * u, .oxygen = 0.075, .monoxide = 12e-6};
  struct leg {
    double to;
    flue goal;
    double tau;
  };
  const double tau = 60 + 60 * u;
  const leg legs[]{{60, cold, 10}, {1000, first, tau}, {1500, second, 40}, {2000, third, 40},
                   {2200, cold, 60}};
  std::vector<frame> rows;
  flue now = cold;
  double t = 0;
  for (const leg& l : legs)
    for (; t < l.to; t += 1) {
      const double slow = 1 / l.tau, quick = 0.1;
      now.stack += slow * (l.goal.stack - now.stack);
      now.oxygen += quick * (l.goal.oxygen - now.oxygen);
      now.monoxide += quick * (l.goal.monoxide - now.monoxide);
      rows.push_back(quiet(t, now));
    }
  return rows;
}

struct closed_readings {
  std::vector<settled_reading> closed;
  void operator()(const settled_reading& r) {
    if (r.to) closed.push_back(r);
  }
  void operator()(const phase_change&) {}
  void operator()(const burn&) {}
};

template <class Chain>
std::vector<settled_reading> judged(Chain chain, const std::vector<frame>& rows) {
  closed_readings heard;
  for (const frame& f : rows) chain.push(f, heard);
  chain.finish(heard);
  return heard.closed;
}

TEST(hindsight, holds_what_was_settled_live_and_begins_no_later) {
  std::size_t plateaus = 0;
  for (std::uint64_t seed = 1; seed <= 20; ++seed) {
    const auto rows = visit(seed);
    const session_settings s;
    const auto live = judged(make_judge(s) | plateau<>{s.plateau}, rows);
    const auto hindsight = judged(make_judge(s) | finished_plateaus{s}, rows);
    for (const auto& l : live) {
      if (*l.to - l.declared < seconds(60)) continue;
      ++plateaus;
      double covered = 0;
      const settled_reading* most = nullptr;
      for (const auto& h : hindsight) {
        const double both = in_seconds(std::min(*l.to, *h.to) - std::max(l.declared, h.declared));
        if (both > covered) covered = both, most = &h;
      }
      ASSERT_NE(most, nullptr) << seed;
      EXPECT_GE(covered, 0.9 * in_seconds(*l.to - l.declared)) << seed;
      EXPECT_LE(when(most->declared), when(l.declared) + half_window) << seed;
      for (const channel c : {channel::stack_temp, channel::o2, channel::co}) {
        const auto &a = l.channels[c], &b = most->channels[c];
        const double minute = session_settings{}.steadiness.limits.of(c) * 60;
        EXPECT_LE(std::abs(a.mean - b.mean),
                  2 * (a.standard_uncertainty + b.standard_uncertainty) + minute)
            << seed << ' ' << traits_of(c).name;
      }
    }
  }
  EXPECT_GE(plateaus, 50U) << "three in each of twenty visits, as a rule";
}

TEST(hindsight, is_the_same_for_the_same_rows) {
  const auto rows = visit(3);
  const session_settings s;
  EXPECT_EQ(judged(make_judge(s) | finished_plateaus{s}, rows),
            judged(make_judge(s) | finished_plateaus{s}, rows));
}

}  // namespace
}  // namespace stilling
