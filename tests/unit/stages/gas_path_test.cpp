// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT

#include "stilling/stages/gas_path.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <type_traits>
#include <vector>

#include "support/flue.hpp"

namespace stilling {
namespace {

using invented::at;
using invented::flue;
using invented::percent;
using invented::ppm;
using invented::quiet_flue;
using invented::when;

static_assert(std::is_trivially_copyable_v<gas_path>);
static_assert(accepts<gas_path, verdict> && !accepts<gas_path, frame>);

double rise(double t, double from, double dead, double tau) {
  const double u = t - from - dead;
  return u < 0 ? 0 : 1 - std::exp(-u / tau);
}

struct path {
  double dead = 40, tau = 20, stack_tau = 10;
};

/// Firing rate up at 300 s and back at 800 s.
flue changing(double t, const path& p) {
  const auto share = [&](double dead, double tau) {
    return rise(t, 300, dead, tau) - rise(t, 800, dead, tau);
  };
  return {.stack = 500 + 25 * share(0, p.stack_tau),
          .oxygen = 0.06 - 0.02 * share(p.dead, p.tau),
          .monoxide = (20 + 30 * share(p.dead, p.tau)) * ppm};
}

invented::judged run(const path& p, double to, std::uint64_t seed = 1) {
  invented::judged all;
  quiet_flue flue_now{seed};
  for (double t = 0; t < to; ++t) all.push(flue_now(t, changing(t, p)));
  return all;
}

std::optional<double> lag_at_the_end(const path& p, channel c, std::uint64_t seed = 1) {
  return run(p, 700, seed).verdicts.back().trends[c].lag;
}

TEST(gas_path, shows_its_lag_in_a_change_of_firing_rate) {
  for (const path p : {path{20, 10, 10}, path{40, 20, 10}, path{60, 40, 30}, path{0, 60, 10}}) {
    for (const channel c : {channel::o2, channel::co}) {
      const auto lag = lag_at_the_end(p, c);
      ASSERT_TRUE(lag) << p.dead;
      const double truth = p.dead + p.tau - p.stack_tau;
      EXPECT_NEAR(*lag, truth, std::max(5.0, 0.2 * truth)) << p.dead;
    }
  }
}

TEST(gas_path, is_unknown_where_the_stack_is_slower) {
  for (std::uint64_t seed = 1; seed < 6; ++seed)
    EXPECT_FALSE(lag_at_the_end({10, 10, 90}, channel::o2, seed));
}

TEST(gas_path, is_unknown_where_nothing_changed) {
  invented::judged all;
  quiet_flue quiet;
  for (int t = 0; t < 900; ++t) all.push(quiet(t));
  for (const channel c : all_channels) EXPECT_FALSE(all.verdicts.back().trends[c].lag);
}

TEST(gas_path, is_unknown_where_gas_changed_for_a_reason_of_its_own) {
  invented::judged all;
  quiet_flue quiet;
  for (int t = 0; t < 1200; ++t)
    all.push(quiet(t, {.stack = t < 300 ? 500.0 : 520.0, .oxygen = t < 700 ? 0.06 : 0.04}));
  EXPECT_FALSE(all.verdicts.back().trends[channel::o2].lag);
}

// With so long a dead time the stack stands again before the gas has moved at all.
TEST(gas_path, holds_back_a_claim_once_its_lag_is_known) {
  const path slow{95, 25, 8};
  const auto all = run(slow, 1400);
  int early = 0, first = 0;
  for (const auto& v : all.verdicts) {
    if (v.in != phase::steady) continue;
    const double t = when(v.row.at);
    if (t > 320 && t < 395) ++first;
    if (t > 820 && t < 960) ++early;
  }
  EXPECT_GT(first, 0) << "nobody could know, the first time";
  EXPECT_EQ(early, 0);
  EXPECT_EQ(all.verdicts.back().in, phase::steady) << "and no longer than need be";
}

TEST(gas_path, begins_anew_after_finish) {
  gas_path stage;
  int heard = 0;
  const auto sink = [&](const verdict& v) {
    ++heard;
    EXPECT_FALSE(v.trends[channel::o2].lag);
  };
  const auto said = run({}, 700);
  for (const auto& v : said.verdicts) stage.push(verdict{v}, [](const verdict&) {});
  stage.finish(sink);
  verdict v;
  v.trends.set(channel::o2, {});
  stage.push(verdict{v}, sink);
  EXPECT_EQ(heard, 1);
}

}  // namespace
}  // namespace stilling
