// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT

#include "stilling/stages/plateau.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <numbers>
#include <type_traits>
#include <vector>

#include "support/flue.hpp"

namespace stilling {
namespace {

using invented::at;
using invented::degree_f;
using invented::flue;
using invented::judged;
using invented::noise;
using invented::ppm;
using invented::quiet_flue;
using invented::row;
using invented::slow_noise;
using invented::when;

static_assert(std::is_trivially_copyable_v<plateau<>>);
static_assert(accepts<plateau<>, verdict> && advances<plateau<>> && interrupts<plateau<>>);
static_assert(!accepts<plateau<>, frame>);

constexpr auto stack = channel::stack_temp;

/// `course(t)` every second over [from, to), with the noise of an ordinary instrument.
template <class F> void run(judged& j, F course, double from, double to) {
  quiet_flue show{static_cast<std::uint64_t>(from) + 1};
  for (double t = from; t < to; t += 1) j.push(show(t, course(t)));
}
void rest(judged& j, double from, double to, const flue& f = {}) {
  run(j, [&](double) { return f; }, from, to);
}
flue cooling(double seconds_out) {
  return {.stack = 330 + 190 * std::exp(-seconds_out / 150),
          .oxygen = 0.209 - 0.159 * std::exp(-seconds_out / 8),
          .monoxide = 20 * ppm * std::exp(-seconds_out / 8)};
}

TEST(plateau, is_told_when_it_begins_and_again_when_it_has_ended) {
  judged j;
  rest(j, 0, 600);
  ASSERT_EQ(j.readings.size(), 1U);
  const auto open = j.readings[0];
  EXPECT_FALSE(open.to);
  EXPECT_FALSE(open.released);
  EXPECT_EQ(open.ended, cause::none);
  EXPECT_LE(open.from, open.last_seen);
  EXPECT_EQ(open.last_seen, open.declared) << "the row at which it became known";

  run(j, [](double t) { return cooling(t - 600); }, 600, 700);
  ASSERT_EQ(j.readings.size(), 2U);
  const auto closed = j.readings[1];
  EXPECT_EQ(closed.declared, open.declared) << "the later replaces the earlier";
  EXPECT_EQ(closed.from, open.from);
  ASSERT_TRUE(closed.to && closed.released);
  EXPECT_NEAR(when(*closed.to), 599, 3);
  EXPECT_GT(*closed.released, *closed.to) << "known later than it ended";
  EXPECT_EQ(closed.ended, cause::burner_off);
}

TEST(plateau, is_read_with_the_mean_of_every_channel) {
  judged j;
  rest(j, 0, 900);
  j.finish();
  const auto& r = j.readings.back().channels;
  EXPECT_NEAR(r[stack].mean, 520, 0.1);
  EXPECT_NEAR(r[channel::o2].mean, 0.05, 1e-4);
  EXPECT_NEAR(r[channel::co].mean, 20 * ppm, 0.2 * ppm);
  EXPECT_NEAR(r[channel::ambient_temp].mean, 294, 1e-9) << "not required, yet reported";
  EXPECT_FALSE(r.has(channel::draft_breech)) << "unknown, not zero";
  for (const auto c : {stack, channel::o2, channel::co}) {
    EXPECT_GT(r[c].standard_uncertainty, 0);
    EXPECT_GE(r[c].coverage, 0.95) << "the noise is set aside here and there";
    EXPECT_LE(r[c].longest_gap, 3);
    EXPECT_GE(r[c].degrees_of_freedom, 1);
    EXPECT_LE(r[c].effective_count, r[c].count);
    ASSERT_TRUE(r[c].rate_bound);
    EXPECT_GE(*r[c].rate_bound, std::abs(r[c].rate));
  }
}

TEST(plateau, runs_on_to_the_end_of_the_log) {
  judged j;
  rest(j, 0, 600);
  j.finish();
  ASSERT_EQ(j.readings.size(), 2U);
  const auto& r = j.readings[1];
  EXPECT_EQ(r.to, at(599));
  EXPECT_EQ(r.ended, cause::end_of_log);
  EXPECT_FALSE(r.released) << "it was not lost";
  j.finish();
  EXPECT_EQ(j.readings.size(), 2U) << "said once";
}

TEST(plateau, is_nothing_where_nothing_settled) {
  judged j;
  run(j, [](double t) { return flue{.stack = 400 + 0.2 * t}; }, 0, 900);
  j.finish();
  EXPECT_TRUE(j.readings.empty());
}

TEST(plateau, has_no_row_of_what_ended_it_in_the_mean) {
  judged j;
  noise draw{1};
  for (int t = 0; t < 600; ++t) j.push(row(t, {.stack = 520 + 0.3 * draw()}));
  for (int t = 600; t < 700; ++t) j.push(row(t, {.stack = 520 + 3.0 * (t - 599)}));
  ASSERT_EQ(j.readings.size(), 2U);
  EXPECT_LE(when(*j.readings[1].to), 600) << "held back until it was known";
  EXPECT_NEAR(j.readings[1].channels[stack].mean, 520, 0.1);
}

TEST(plateau, has_no_row_of_the_warm_up_in_the_mean) {
  judged j;
  run(j, [](double t) { return flue{.stack = 520 - 200 * std::exp(-t / 45)}; }, 0, 900);
  j.finish();
  ASSERT_FALSE(j.readings.empty());
  EXPECT_GT(200 / 45.0 * std::exp(-when(j.readings[0].from) / 45) * 60, 0);
  EXPECT_LT(200 * std::exp(-when(j.readings[0].from) / 45), 12) << "K still to come at its start";
  EXPECT_NEAR(j.readings.back().channels[stack].mean, 520, 0.5);
}

TEST(plateau, of_two_stages_is_two_readings_without_a_row_in_common) {
  judged j;
  rest(j, 0, 600, {.stack = 420, .oxygen = 0.07});
  run(j, [](double t) {
    const double u = t - 600;
    return flue{.stack = 520 - 100 * std::exp(-u / 40), .oxygen = 0.04 + 0.03 * std::exp(-u / 10)};
  }, 600, 1500);
  j.finish();
  ASSERT_EQ(j.readings.size(), 4U);
  const auto& low = j.readings[1];
  const auto& high = j.readings[3];
  EXPECT_NE(low.declared, high.declared);
  EXPECT_LT(*low.to, high.from);
  EXPECT_NEAR(low.channels[stack].mean, 420, 0.5);
  EXPECT_NEAR(high.channels[stack].mean, 520, 1);
  EXPECT_NEAR(low.channels[channel::o2].mean, 0.07, 3e-4);
  EXPECT_NEAR(high.channels[channel::o2].mean, 0.04, 3e-4);
  EXPECT_EQ(low.ended, cause::stage_change);
}

TEST(plateau, that_creeps_says_so_and_reads_where_it_is_now) {
  judged j;
  noise draw{3};
  for (int t = 0; t < 1800; ++t)  // 2 degF/min for half an hour
    j.push(row(t, {.stack = 480 + 2 * degree_f / 60 * t + 0.2 * draw()}));
  j.finish();
  ASSERT_EQ(j.readings.size(), 2U) << "one plateau, not many";
  const auto& r = j.readings[1];
  EXPECT_TRUE(r.creeping);
  EXPECT_GT(r.from, j.readings[0].from);
  EXPECT_NEAR(r.channels[stack].mean, 480 + 2 * degree_f * 30, 5 * degree_f)
      << "the newest minutes, not the whole half hour";
  EXPECT_NEAR(r.channels[stack].rate, 2 * degree_f / 60, 0.5 * degree_f / 60);
}

TEST(plateau, at_rest_does_not_creep) {
  judged j;
  rest(j, 0, 1800);
  j.finish();
  EXPECT_FALSE(j.readings.back().creeping);
  EXPECT_EQ(j.readings.back().from, j.readings.front().from);
  EXPECT_FALSE(j.readings.back().hunting) << "nor does it hunt";
}

TEST(plateau, that_swings_is_one_and_tells_period_and_amplitude) {
  judged j;
  noise draw{4};
  for (int t = 0; t < 1500; ++t) {
    const double s = std::sin(2 * std::numbers::pi * t / 40);
    j.push(row(t, {.stack = 520 + 1.0 * s + 0.2 * draw(),
                   .oxygen = 0.05 + 0.003 * s + 1e-4 * draw(),
                   .monoxide = (20 - 4 * s + 0.3 * draw()) * ppm}));
  }
  j.finish();
  ASSERT_EQ(j.readings.size(), 2U) << "one plateau, not many";
  const auto& r = j.readings[1];
  ASSERT_TRUE(r.hunting);
  EXPECT_NEAR(r.hunting->period, 40, 4);
  ASSERT_TRUE(r.hunting->amplitude.has(channel::o2));
  EXPECT_NEAR(r.hunting->amplitude[channel::o2], 0.003, 0.0006);
  EXPECT_NEAR(r.channels[channel::o2].mean, 0.05, 3e-4);
}

TEST(plateau, ends_at_its_last_row_when_silence_falls) {
  judged j;
  rest(j, 0, 600);
  j.advance(630);
  EXPECT_EQ(j.readings.size(), 1U) << "patience";
  j.advance(700);
  ASSERT_EQ(j.readings.size(), 2U) << "told without waiting for a row";
  EXPECT_EQ(j.readings[1].to, at(599));
  EXPECT_EQ(j.readings[1].ended, cause::gap);
  EXPECT_EQ(j.readings[1].released, at(599) + plateau_settings{}.gap);
}

// Law 2.
TEST(plateau, says_the_same_whether_or_not_time_is_told) {
  judged told, untold;
  quiet_flue a{1}, b{1};
  for (double t = 0; t < 1500; t += 1) {
    if (t >= 700 && t < 790) {
      told.advance(t + 0.25);
      continue;
    }
    told.advance(t);
    told.push(a(t, t < 1200 ? flue{} : cooling(t - 1200)));
    untold.push(b(t, t < 1200 ? flue{} : cooling(t - 1200)));
  }
  told.finish(), untold.finish();
  EXPECT_EQ(told.readings, untold.readings);
  EXPECT_EQ(told.readings.size(), 4U);
}

TEST(plateau, ends_where_the_stream_breaks) {
  judged j;
  rest(j, 0, 600);
  j.push(discontinuity{0, at(5), break_kind::clock_back});
  ASSERT_EQ(j.readings.size(), 2U);
  EXPECT_EQ(j.readings[1].ended, cause::stream_broke);
  EXPECT_EQ(j.readings[1].to, at(599));
  rest(j, 5, 605);
  j.finish();
  ASSERT_EQ(j.readings.size(), 4U) << "and another begins on the other side";
  EXPECT_LE(j.readings[3].to, at(605));
}

TEST(plateau, accounts_for_every_value_of_its_rows) {
  judged j;
  quiet_flue show;
  for (int t = 0; t < 900; ++t) {
    frame f = show(t);
    if (t % 50 == 7) f.indication.set(stack, 900);
    if (t >= 400 && t < 500 && t % 2 == 1) f.indication.clear(stack);
    j.push(f);
  }
  j.finish();
  const auto& r = j.readings.back();
  const auto rows = static_cast<std::uint32_t>(when(*r.to) - when(r.from)) + 1;
  const auto& x = r.channels[stack];
  EXPECT_EQ(r.channels[channel::ambient_temp].count, rows);
  EXPECT_EQ(x.count + x.set_aside + 50, rows) << "used, set aside or missing";
  EXPECT_GE(x.set_aside, 16U) << "every spike";
  EXPECT_NEAR(x.coverage, static_cast<double>(x.count) / rows, 1e-12);
  EXPECT_LE(x.longest_gap, 3);
  EXPECT_GE(x.longest_gap, 2);
  EXPECT_NEAR(x.mean, 520, 0.1) << "no spike in it";
}

TEST(plateau, remembers_the_peak_since_the_fire_was_seen) {
  judged j;
  run(j, [](double t) {
    return flue{.monoxide = 20 * ppm + 3000 * ppm * std::exp(-t / 15)};
  }, 0, 900);
  j.finish();
  const auto& co = j.readings.back().channels[channel::co];
  EXPECT_NEAR(co.mean, 20 * ppm, 1 * ppm);
  ASSERT_TRUE(co.peak);
  EXPECT_NEAR(*co.peak, 3020 * ppm, 5 * ppm);
}

// JCGM 100 F.2.2.1: a display that does not move can be anywhere within its step, step / sqrt(12).
TEST(plateau, is_no_more_certain_than_the_display_allows) {
  judged j;
  for (int t = 0; t < 900; ++t) {
    frame f = row(t, flue{});
    f.indication.set(stack, 520 + (t % 300 == 0 ? degree_f : 0));
    f.written_step[index_of(stack)] = degree_f;
    f.written_step[index_of(channel::o2)] = 0.001;
    j.push(f);
  }
  j.finish();
  const auto& r = j.readings.back().channels;
  const double share = 0.979;  // 1.96 / 2: known well, it need not be widened to cover 95 %
  EXPECT_GE(r[stack].standard_uncertainty, share * degree_f / std::sqrt(12));
  EXPECT_GE(r[channel::o2].standard_uncertainty, share * 0.001 / std::sqrt(12));
}

TEST(plateau, that_creeps_averages_a_handful_of_rows_however_slowly_they_come) {
  judged j;
  for (double t = 0; t < 3600; t += 33)
    j.push(row(t, {.stack = 520 + 2 * degree_f * t / 60, .oxygen = 0.05, .monoxide = 20e-6}));
  j.finish();
  ASSERT_FALSE(j.readings.empty());
  const auto& r = j.readings.back();
  EXPECT_TRUE(r.creeping);
  EXPECT_GE(r.channels[stack].count, 6U) << "four in 120 s";
  EXPECT_LE(r.channels[stack].count, 8U);
}

/// How often value +- 2 u holds the true mean of the stack's temperature.
struct trial {
  double rho, sd, step;  // per second; kelvin; display step, 0: none
};
double coverage_of(const trial& of, int plateaus, int rows) {
  int held = 0, told = 0;
  for (int n = 1; n <= plateaus; ++n) {
    judged j;
    slow_noise draw{static_cast<std::uint64_t>(n), of.rho};
    const double truth = 520 + 0.137 * n;
    for (int t = 0; t < rows; ++t) {
      double x = truth + of.sd * draw();
      if (of.step > 0) x = of.step * std::round(x / of.step);
      j.push(row(t, {.stack = x}));
    }
    j.finish();
    if (j.readings.empty()) continue;
    const auto& r = j.readings.back().channels[stack];
    ++told;
    if (std::abs(r.mean - truth) <= 2 * r.standard_uncertainty) ++held;
  }
  EXPECT_GE(told, plateaus * 3 / 4) << "enough of them settle";
  return static_cast<double>(held) / told;
}

TEST(plateau, is_uncertain_by_as_much_as_it_says) {
  constexpr trial kinds[]{{0, 0.5, 0},    {0.5, 0.5, 0},        {0.8, 0.5, 0},
                          {0.9, 0.3, 0},  {0.8, 0.5, degree_f}, {0, 0.1, degree_f}};
  double sum = 0;
  for (const auto& kind : kinds) {
    const double held = coverage_of(kind, 60, 480);
    EXPECT_GE(held, 0.80) << "rho " << kind.rho << ", sd " << kind.sd << ", step " << kind.step;
    sum += held;
  }
  EXPECT_GE(sum / std::size(kinds), 0.90) << "k = 2 means about 95 %";
}

TEST(plateau, claims_no_more_certainty_from_slow_noise_than_from_fast) {
  const auto spread_of = [](double rho) {
    judged j;
    slow_noise draw{5, rho};
    for (int t = 0; t < 900; ++t) j.push(row(t, {.stack = 520 + 0.5 * draw()}));
    j.finish();
    return j.readings.back().channels[stack].standard_uncertainty;
  };
  EXPECT_GT(spread_of(0.8), 2 * spread_of(0)) << "sqrt(9) in the long run";
}

// Law 9.
TEST(plateau, after_finish_is_as_good_as_new) {
  judged used, fresh;
  rest(used, 0, 600);
  run(used, [](double t) { return cooling(t - 600); }, 600, 620);
  used.finish();
  used.readings.clear(), used.phases.clear(), used.burns.clear();
  for (auto* j : {&used, &fresh}) {
    rest(*j, 0, 600);
    run(*j, [](double t) { return cooling(t - 600); }, 600, 700);
    j->finish();
  }
  EXPECT_EQ(used.readings, fresh.readings);
  EXPECT_EQ(used.phases, fresh.phases);
  EXPECT_EQ(used.burns, fresh.burns);
}

}  // namespace
}  // namespace stilling
