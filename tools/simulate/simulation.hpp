// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#pragma once

// Runs a plan: the rows a logger would have written, and the truth behind them.
//
// Truth is taken from the noise-free sensed signal once a second. At a second the test is truly
// steady when over the trailing 60 s the burner fired, the probe was in and undiluted, and the
// range of stack temperature, O2 and CO stayed within 3 degF, 0.1 % and 5 ppm. In a test that
// hunts the range is taken on the trailing mean over one period.

#include <array>
#include <cstdint>
#include <optional>
#include <ostream>
#include <string>
#include <string_view>
#include <vector>

#include "plan.hpp"

namespace stilling::invented {

inline constexpr std::array<channel, 3> required = {stack, oxygen, monoxide};
inline constexpr std::array<double, 3> limits_per_min = {3.0, 0.1, 5.0};  ///< degF, %, ppm

/// Times of everything below are on the log's clock.
struct event {
  double at_s;
  std::string_view kind;
};
struct span {
  double from_s, to_s;
  std::string_view kind;
};
struct steady_interval {
  long long from_s, to_s;
  bool after_gap;  ///< its true beginning lies before the log, or before a jump of the clock
  lanes gas, sensed;
  std::optional<event> ended_by;
};
struct second {
  bool fired_undiluted;  ///< over the trailing 60 s
  double ratio;          ///< worst range over limit, at most 99
  lanes gas, sensed;
};

struct truth {
  std::vector<std::array<long long, 2>> clock;  ///< plant second, offset from then on
  std::optional<int> hunting_period_s;
  double o2_lag_s = 0.0, co_lag_s = 0.0;  ///< mean, behind the thermocouple in the same gas
  std::vector<event> events;
  std::vector<span> blind;
  std::vector<span> burns;
  std::vector<steady_interval> intervals;
  std::vector<second> seconds;
};

struct log_row {
  long long stamp;  ///< units of the last decimal of the stamp
  std::array<std::optional<long long>, channel_count>
      cells;                  ///< units of the display's last decimal
  std::string remark_before;  ///< note lines, each with its line feed
};

struct simulation {
  std::string name, scenario, family;
  std::uint64_t seed = 0;
  double noise_scale = 1.0;
  sampling sampled;
  std::array<display_step, channel_count> display;
  std::vector<log_row> rows;
  truth known;
};

simulation run(const test_plan&, std::uint64_t seed, double noise_scale);

void write_log(const simulation&, std::ostream&);
void write_truth(const simulation&, std::ostream&);

}  // namespace stilling::invented
