// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT

// What a person at the burner would call right for each log of tests/cases that is about settling
// and about sensors. The logs are invented, so that the truth is known: what is expected here is
// computed from the curves they were made of.

#include <gtest/gtest.h>

#include <algorithm>
#include <string>
#include <vector>

#include "stilling/session.hpp"
#include "stilling/terms/unit.hpp"
#include "support/input_chain.hpp"

namespace stilling {
namespace {

constexpr auto stack = channel::stack_temp, room = channel::ambient_temp;
constexpr auto oxygen = channel::o2, monoxide = channel::co;

/// In the units of the logs: degF, percent, ppm.
unit shown_in(channel c) {
  return c == oxygen ? unit::percent : c == monoxide ? unit::ppm : unit::fahrenheit;
}

struct story {
  std::vector<settled_reading> readings;  // open, closed, open, closed …
  std::vector<phase_change> phases;
  std::vector<burn> burns;

  [[nodiscard]] std::size_t settled() const { return readings.size() / 2; }
  [[nodiscard]] const settled_reading& opened(std::size_t i = 0) const { return readings[2 * i]; }
  [[nodiscard]] const settled_reading& closed(std::size_t i = 0) const {
    return readings[2 * i + 1];
  }
  [[nodiscard]] bool ever(phase p) const {
    return std::any_of(phases.begin(), phases.end(), [&](const auto& x) { return x.to == p; });
  }
};

double when(instant t) { return in_seconds(t.time_since_epoch()); }
double mean(const settled_reading& r, channel c) {
  return from_canonical(shown_in(c), r.channels[c].mean);
}
double per_minute(const settled_reading& r, channel c) {
  return 60 * difference_from_canonical(shown_in(c), r.channels[c].rate);
}

story tell(const std::string& name, std::size_t piece = std::string_view::npos,
           session_settings s = {}) {
  story out;
  auto sink = overloaded{[&](const settled_reading& r) { out.readings.push_back(r); },
                         [&](const phase_change& p) { out.phases.push_back(p); },
                         [&](const burn& b) { out.burns.push_back(b); },
                         [](const auto&) {}};
  const std::string bytes = testing::case_bytes(name);
  default_session live{s};
  for (std::string_view rest = bytes; !rest.empty();) {
    live.push(rest.substr(0, piece), sink);
    rest.remove_prefix(std::min(piece, rest.size()));
  }
  live.finish(sink);
  return out;
}

// 520 - 400 e^(-t/300) degF: 29 degF/min at five minutes, 11 at ten, 3 at 985 s.
TEST(case_001, a_heavy_appliance_is_judged_by_its_slope_not_by_the_clock) {
  const auto got = tell("001-five-or-ten-minutes.csv");
  ASSERT_EQ(got.settled(), 1U);
  EXPECT_GE(when(got.opened().declared), 985);
  EXPECT_LE(when(got.opened().declared), 1260);
  const auto& read = got.opened().channels[stack];
  ASSERT_TRUE(read.remaining) << "and how far it still has to go";
  EXPECT_NEAR(mean(got.opened(), stack) +
                  difference_from_canonical(unit::fahrenheit, *read.remaining), 520, 5);
  EXPECT_EQ(when(*got.closed().to), 1800);
}

// 380 - 300 e^(-t/60) degF; burner off at 480 s, then air.
TEST(case_002, a_short_burn_is_read_before_the_burner_stops) {
  const auto got = tell("002-short-burn-low-mass.csv");
  ASSERT_EQ(got.settled(), 1U);
  EXPECT_GE(when(got.opened().declared), 276) << "true crossing of 3 degF/min";
  const auto& r = got.closed();
  EXPECT_LE(when(*r.to), 480);
  EXPECT_EQ(r.ended, cause::burner_off);
  EXPECT_NEAR(mean(r, stack), 379.5, 0.8);
  EXPECT_NEAR(mean(r, oxygen), 4.5, 0.05);
  EXPECT_NEAR(mean(r, monoxide), 15, 1);
}

TEST(case_003, short_cycling_never_settles_and_its_burns_are_counted) {
  const auto got = tell("003-short-cycling.csv");
  EXPECT_TRUE(got.readings.empty()) << "yet every peak and trough is flat";
  EXPECT_FALSE(got.ever(phase::steady));
  ASSERT_EQ(got.burns.size(), 5U);
  const double peaks[]{333.1, 352.2, 354.5, 354.8, 354.8};
  const double ends[]{321.7, 339.9, 342.1, 342.4, 342.4};
  for (std::size_t i = 0; i < 5; ++i) {
    const burn& b = got.burns[i];
    ASSERT_TRUE(b.to);
    EXPECT_NEAR(in_seconds(*b.to - b.from), 180, 10) << "to a row";
    EXPECT_NEAR(from_canonical(unit::fahrenheit, b.peak[stack]), peaks[i], 1e-9);
    EXPECT_NEAR(from_canonical(unit::fahrenheit, b.last[stack]), ends[i], 1e-9);
    EXPECT_EQ(b.last[oxygen], 0.048);
  }
}

// 2 degF/min for 36 minutes, 400 to 472 degF.
TEST(case_005, a_creep_is_read_where_it_is_now) {
  const auto got = tell("005-steady-creep.csv");
  ASSERT_EQ(got.settled(), 1U) << "within 3 degF/min throughout";
  EXPECT_GE(mean(got.closed(), stack), 469 - 0.5);
  EXPECT_LE(mean(got.closed(), stack), 472) << "not the mean of the whole run, 436";
  EXPECT_GT(when(got.closed().from), 1800);
}

// 1.2 degF/min shown in whole degrees every 5 s: neighbours say 0 or 12.
TEST(case_006, one_degree_steps_do_not_unsettle) {
  const auto got = tell("006-one-degree-steps.csv");
  ASSERT_EQ(got.settled(), 1U);
  EXPECT_LE(when(got.opened().declared), 180) << "settled from the start";
  EXPECT_EQ(when(*got.closed().to), 900) << "and throughout";
  EXPECT_NEAR(per_minute(got.opened(), stack), 1.2, 0.25);
  EXPECT_NEAR(per_minute(got.closed(), stack), 1.2, 0.25);
}

// Cold until 240 s; then 480 - 412 e^(-u/120) degF, 3 degF/min at 747.5 s.
TEST(case_008, a_cold_flue_is_idle_and_nothing_settles_before_it_burns) {
  const auto got = tell("008-nothing-lit-yet.csv");
  ASSERT_FALSE(got.phases.empty());
  EXPECT_EQ(got.phases[0].to, phase::idle);
  EXPECT_GE(when(got.phases[1].at), 240);
  ASSERT_EQ(got.settled(), 1U);
  EXPECT_GE(when(got.opened().declared), 747);
  EXPECT_LE(when(got.opened().declared), 860);
  EXPECT_GE(when(got.opened().from), 600);
}

// 300 degF and 7 % O2, then 450 and 4 from 900 s with 60 s; 3 degF/min at 1135 s.
TEST(case_009, two_firing_stages_are_two_readings) {
  const auto got = tell("009-low-then-high-fire.csv");
  ASSERT_EQ(got.settled(), 2U);
  EXPECT_NEAR(mean(got.closed(0), stack), 300, 0.3);
  EXPECT_NEAR(mean(got.closed(0), oxygen), 7, 0.03);
  EXPECT_EQ(got.closed(0).ended, cause::stage_change);
  EXPECT_LE(when(*got.closed(0).to), 900);
  EXPECT_NEAR(mean(got.closed(1), stack), 450, 0.5);
  EXPECT_NEAR(mean(got.closed(1), oxygen), 4, 0.03);
  EXPECT_GE(when(got.opened(1).declared), 1135);
  EXPECT_LE(when(got.opened(1).declared), 1300);
}

// CO 25 + 3828 e^(-t/45) ppm: its own clock, later than the stack's.
TEST(case_011, the_spike_at_the_start_is_the_peak_and_not_in_the_level) {
  const auto got = tell("011-startup-co-spike.csv");
  ASSERT_EQ(got.settled(), 1U);
  EXPECT_GE(when(got.opened().declared), 345) << "CO falls by 5 ppm/min and more until then";
  EXPECT_NEAR(mean(got.closed(), monoxide), 25, 1);
  ASSERT_TRUE(got.closed().channels[monoxide].peak);
  EXPECT_NEAR(*got.closed().channels[monoxide].peak * 1e6, 3853, 0.5);
}

// 20 degF/min to 300 s, then flat.
TEST(case_012, a_replay_is_told_like_the_live_stream) {
  const std::string name = "012-stream-equals-batch.csv";
  const auto whole = tell(name), pieces = tell(name, 7), bytes = tell(name, 1);
  EXPECT_EQ(whole.readings, pieces.readings);
  EXPECT_EQ(whole.readings, bytes.readings);
  EXPECT_EQ(whole.phases, pieces.phases);
  EXPECT_EQ(whole.phases, bytes.phases);
  ASSERT_EQ(whole.settled(), 1U);
  EXPECT_GE(when(whole.opened().declared), 300);
  EXPECT_LE(when(whole.opened().declared), 440);
  EXPECT_NEAR(mean(whole.closed(), stack), 400, 0.1);
}

// All channels off by a term that decays with 90 s: the room's, 8 degF at first, is within 0.5 degF
// from 249.5 s on; the stack alone passes at 185 to 220 s.
TEST(case_013, a_cold_instrument_is_told_from_the_appliance_and_waited_for) {
  const auto got = tell("013-cold-instrument.csv");
  const auto warming = std::find_if(got.phases.begin(), got.phases.end(), [](const auto& p) {
    return p.to == phase::instrument_warm_up;
  });
  ASSERT_NE(warming, got.phases.end());
  EXPECT_LE(when(warming->at), 60);
  EXPECT_EQ(warming->why, cause::drift_in_step);
  ASSERT_NE(warming + 1, got.phases.end());
  EXPECT_GE(when((warming + 1)->at), 249.5) << "until the room's channel is within 0.5 degF";
  EXPECT_LE(when((warming + 1)->at), 265) << "and not much longer";
  ASSERT_EQ(got.settled(), 1U);
  EXPECT_GE(when(got.opened().declared), 249.5);
  EXPECT_LE(when(got.opened().declared), 275);
  for (const auto& r : got.readings) EXPECT_GE(when(r.from), 249.5) << "no cold row is in it";
  EXPECT_NEAR(mean(got.closed(), stack), 399.9, 0.3);
  EXPECT_NEAR(mean(got.closed(), room), 70.0, 0.15);
  EXPECT_NEAR(mean(got.closed(), oxygen), 5.00, 0.02);
  EXPECT_NEAR(mean(got.closed(), monoxide), 20, 0.5);
}

// O2 20.9 and CO 400, then 0, for a minute; only then real values, for another.
TEST(case_014, values_put_in_for_missing_ones_are_in_no_mean) {
  const auto got = tell("014-placeholder-values.csv");
  EXPECT_EQ(got.phases.at(0).to, phase::idle);
  ASSERT_EQ(got.settled(), 1U);
  for (const auto& r : got.readings) {
    EXPECT_GE(when(r.from), 60);
    EXPECT_NEAR(mean(r, oxygen), 5.30, 0.03);
    EXPECT_NEAR(mean(r, monoxide), 62, 1);
  }
}

TEST(case_015, what_an_open_sensor_says_is_set_aside_and_counted) {
  const auto got = tell("015-open-sensor-values.csv");
  ASSERT_EQ(got.settled(), 1U) << "no abort";
  const auto& read = got.closed().channels[stack];
  EXPECT_EQ(read.count, 106U);
  EXPECT_EQ(read.set_aside, 15U);
  EXPECT_NEAR(mean(got.closed(), stack), 414.95, 0.1) << "naively 1393";
  EXPECT_GE(read.longest_gap, 50) << "ten impossible values in a row";
}

// Fresh air to 60 s at -12 ppm; then 38 ppm in the stack.
TEST(case_016, a_reading_after_zeroing_in_dirty_air_is_as_measured) {
  const auto got = tell("016-zeroed-in-dirty-air.csv");
  ASSERT_EQ(got.settled(), 1U);
  EXPECT_EQ(got.phases.at(0).to, phase::idle);
  EXPECT_NEAR(mean(got.closed(), monoxide), 38, 0.5) << "nothing is corrected in silence";
  EXPECT_EQ(got.closed().channels[monoxide].set_aside, 0U) << "nor is a negative hidden";
}

// 20.1 % in fresh air, 5.00 in the stack.
TEST(case_017, a_reading_of_a_tired_cell_is_as_measured) {
  const auto got = tell("017-tired-o2-cell.csv");
  ASSERT_EQ(got.settled(), 1U);
  EXPECT_NEAR(mean(got.closed(), oxygen), 5.00, 0.03) << "never scaled unannounced";
  EXPECT_FALSE(got.closed().drift_corrected);
}

// 405.3 without a change from 200 s; burner off at 400 s.
TEST(case_018, a_frozen_thermocouple_is_stuck_and_not_steady) {
  const auto got = tell("018-frozen-thermocouple.csv");
  ASSERT_EQ(got.settled(), 1U);
  const auto& r = got.closed();
  EXPECT_EQ(r.ended, cause::stuck);
  EXPECT_LE(when(*r.released), 260);
  EXPECT_NEAR(mean(r, stack), 405, 0.3);
  EXPECT_NEAR(mean(r, oxygen), 5.0, 0.05);
  ASSERT_EQ(got.burns.size(), 1U);
  EXPECT_NEAR(when(*got.burns[0].to), 400, 10) << "the other channels are believed";
}

// 450 degF; the room's channel gains 1.2 degF/min.
TEST(case_020, a_warming_room_probe_leaves_the_stack_alone) {
  const auto got = tell("020-ambient-probe-warms.csv");
  ASSERT_EQ(got.settled(), 1U);
  EXPECT_NEAR(mean(got.closed(), stack), 450, 0.2);
  EXPECT_NEAR(per_minute(got.closed(), room), 1.2, 0.05);
  EXPECT_FALSE(got.ever(phase::instrument_warm_up)) << "it moves alone";
}

// Six bad rows, two of them adjacent; 425.05 without them.
TEST(case_022, lone_spikes_are_set_aside_and_counted) {
  const auto got = tell("022-lone-spikes.csv");
  ASSERT_EQ(got.settled(), 1U) << "none of them unsettles";
  const auto& r = got.closed();
  EXPECT_NEAR(mean(r, stack), 425.05, 0.1) << "naively 431.2";
  EXPECT_EQ(r.channels[stack].count, 115U);
  EXPECT_EQ(r.channels[stack].set_aside, 6U);
  EXPECT_NEAR(per_minute(r, stack), 0, 1) << "naively -6.4";
  ASSERT_TRUE(r.channels[stack].peak);
  EXPECT_LT(from_canonical(unit::fahrenheit, *r.channels[stack].peak), 430) << "nor is 2048 one";
}

TEST(case_023, missing_cells_are_missing_and_no_more) {
  const auto got = tell("023-every-second-row-missing.csv");
  ASSERT_EQ(got.settled(), 1U) << "no abort";
  const auto& read = got.closed().channels[stack];
  EXPECT_NEAR(mean(got.closed(), stack), 418, 0.2) << "empty is not zero";
  EXPECT_EQ(read.longest_gap, 10);
  EXPECT_NEAR(read.coverage, 109 / 121.0, 1e-9);
}

// A change at 120 s; the gas comes 60 s later and with 40 s, within 0.1 % O2 from 310 s. The stack
// itself takes 30 s, so that gas is 60 + 40 - 30 s behind it.
TEST(case_025, the_reading_waits_for_the_slow_gas_path) {
  const auto got = tell("025-slow-gas-path.csv");
  ASSERT_GE(got.settled(), 1U);
  const auto last = got.settled() - 1;
  EXPECT_GE(when(got.opened(last).declared), 310);
  EXPECT_NEAR(mean(got.closed(last), stack), 410, 0.3);
  EXPECT_NEAR(mean(got.closed(last), oxygen), 4.5, 0.05);
  EXPECT_NEAR(mean(got.closed(last), monoxide), 28, 0.5);
  for (std::size_t i = 0; i < last; ++i) EXPECT_LE(when(*got.closed(i).to), 125);
  EXPECT_FALSE(got.closed(0).channels[oxygen].lag) << "nothing has shown it yet";
  for (const auto& r : {got.opened(last), got.closed(last)}) {
    for (const channel c : {oxygen, monoxide}) {
      ASSERT_TRUE(r.channels[c].lag);
      EXPECT_NEAR(*r.channels[c].lag, 70, 2);
    }
    EXPECT_FALSE(r.channels[stack].lag);
  }
}

}  // namespace
}  // namespace stilling
