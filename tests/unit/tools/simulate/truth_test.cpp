// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <cstdint>
#include <vector>

#include "simulate/scenario.hpp"

namespace stilling::invented {
namespace {

simulation wide(std::string_view name, std::uint64_t seed) {
  auto options = simulation_options{};
  options.draws = breadth::wide;
  return simulate(name, seed, options);
}

/// The definition of truly steady, again from the grid and the words of the header.
bool steady_by_definition(const truth& known, std::size_t i) {
  if (!known.seconds[i].fired_undiluted || i < 200) return false;
  for (std::size_t r = 0; r < required.size(); ++r) {
    auto low = 1e9, high = -1e9;
    for (auto k = i - 60; k <= i; ++k) {
      low = std::min(low, known.seconds[k].sensed[required[r]]);
      high = std::max(high, known.seconds[k].sensed[required[r]]);
    }
    if (high - low > limits_per_min[r]) return false;
  }
  return true;
}

TEST(truth, intervals_are_steady_maximal_and_within_a_burn) {
  for (const auto name : {"air_adjustments", "probe_slips", "short_cycling", "staged_firing"}) {
    const auto test = wide(name, 21);
    const auto& known = test.known;
    const auto origin = known.clock[0][1];
    auto counted = std::vector<bool>(known.seconds.size(), false);
    for (const auto& it : known.intervals) {
      EXPECT_GT(it.to_s - it.from_s, 9) << test.name;
      for (auto t = it.from_s; t <= it.to_s; ++t)
        counted[static_cast<std::size_t>(t - origin)] = true;
      EXPECT_TRUE(std::any_of(known.burns.begin(), known.burns.end(), [&](const span& burn) {
        return burn.from_s <= static_cast<double>(it.from_s) &&
               static_cast<double>(it.to_s) <= burn.to_s;
      })) << test.name;
      EXPECT_NEAR(it.gas[stack], it.sensed[stack], 0.05 * it.gas[stack]);
    }
    auto run = 0;
    for (std::size_t i = 200; i < counted.size(); ++i) {
      const auto steady = steady_by_definition(known, i);
      run = steady ? run + 1 : 0;
      if (counted[i]) {
        EXPECT_TRUE(steady) << test.name << " second " << i;
      }
      if (run > 30) {
        EXPECT_TRUE(counted[i]) << test.name << " second " << i;
      }
    }
  }
}

TEST(truth, nothing_is_steady_within_a_minute_of_lighting_or_slipping) {
  for (const auto name : {"short_cycling", "probe_slips", "never_lit"}) {
    for (auto seed = std::uint64_t{1}; seed <= 5; ++seed) {
      const auto known = wide(name, seed).known;
      for (const auto& it : known.events) {
        if (it.kind != "ignition" && it.kind != "probe_restored") continue;
        const auto from =
            static_cast<std::size_t>(it.at_s) - static_cast<std::size_t>(known.clock[0][1]);
        for (auto i = from + 1; i < std::min(from + 60, known.seconds.size()); ++i) {
          EXPECT_FALSE(known.seconds[i].fired_undiluted) << name << seed << " second " << i;
        }
      }
    }
  }
}

TEST(truth, a_restless_test_is_seldom_steady) {
  auto steady = 0, fired = 0;
  for (auto seed = std::uint64_t{1}; seed <= 20; ++seed) {
    for (const auto& it : wide("restless", seed).known.seconds) {
      fired += it.fired_undiluted;
      steady += it.fired_undiluted && it.ratio <= 1.0;
    }
  }
  EXPECT_LT(steady, fired / 5);
}

TEST(truth, an_unlit_burner_is_never_steady) {
  for (auto seed = std::uint64_t{1}; seed <= 10; ++seed) {
    EXPECT_TRUE(wide("never_lit", seed).known.intervals.empty()) << seed;
  }
}

TEST(truth, a_swing_is_judged_by_its_mean) {
  auto longest_by_mean = 0LL, longest_by_value = 0LL, run = 0LL;
  for (auto seed = std::uint64_t{1}; seed <= 10; ++seed) {
    const auto known = wide("hunting", seed).known;
    ASSERT_TRUE(known.hunting_period_s);
    for (const auto& it : known.intervals) {
      longest_by_mean = std::max(longest_by_mean, it.to_s - it.from_s);
    }
    for (std::size_t i = 200; i < known.seconds.size(); ++i) {
      run = steady_by_definition(known, i) ? run + 1 : 0;
      longest_by_value = std::max(longest_by_value, run);
    }
    run = 0;
  }
  EXPECT_GT(longest_by_mean, 300);
  EXPECT_LE(longest_by_value, longest_by_mean);
}

TEST(truth, disturbances_end_intervals) {
  auto ended = 0;
  for (auto seed = std::uint64_t{1}; seed <= 10; ++seed) {
    for (const auto& it : wide("probe_slips", seed).known.intervals) {
      if (!it.ended_by) continue;
      ++ended;
      EXPECT_LE(it.ended_by->at_s, static_cast<double>(it.to_s) + 1.0);
      EXPECT_GE(it.ended_by->at_s, static_cast<double>(it.to_s) - 150.0);
    }
  }
  EXPECT_GT(ended, 15);
}

TEST(truth, a_running_burner_is_steady_from_the_first_second) {
  auto from_the_start = 0;
  for (auto seed = std::uint64_t{1}; seed <= 30; ++seed) {
    const auto known = wide("under_way", seed).known;
    for (const auto& it : known.intervals) {
      if (it.from_s != known.clock[0][1]) continue;
      ++from_the_start;
      EXPECT_TRUE(it.after_gap);
    }
  }
  EXPECT_GT(from_the_start, 2);
}

TEST(truth, calls_nothing_steady_while_the_room_is_off_by_the_instruments_warm_up) {
  for (std::uint64_t seed = 1; seed < 20; ++seed) {
    const auto test = wide("warming_instrument", seed);
    const auto& grid = test.known.seconds;
    ASSERT_FALSE(test.known.intervals.empty()) << test.name;
    EXPECT_GT(grid[0].ratio, 4) << "3 degF and more, of 0.5";
    const auto from = static_cast<std::size_t>(test.known.intervals[0].from_s -
                                               test.known.clock[0][1]);
    auto drift = 0.0;
    for (auto k = from; k < grid.size(); ++k)
      drift = std::max(drift, std::abs(grid[k].sensed[ambient] - grid.back().sensed[ambient]));
    EXPECT_LT(drift, 0.75) << test.name << ": 0.5 by the warm-up, the rest by the room's own";
  }
}

}  // namespace
}  // namespace stilling::invented
