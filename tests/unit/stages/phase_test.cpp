// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT

#include "stilling/stages/phase.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <type_traits>
#include <vector>

#include "support/flue.hpp"

namespace stilling {
namespace {

using invented::at;
using invented::flue;
using invented::fresh_air;
using invented::judged;
using invented::ppm;
using invented::quiet_flue;
using invented::row;
using invented::when;

static_assert(std::is_trivially_copyable_v<phases>);
static_assert(accepts<phases, verdict> && advances<phases> && !accepts<phases, frame>);
static_assert(accepts<phases, note>, "what the person says about the probe");
static_assert(std::same_as<phases::emits, items<verdict, phase_change, note>>);

/// A test from fresh air to a warm flue that has come to rest by and by: lit at 60 s.
flue warming(double t) {
  if (t < 60) return fresh_air;
  const double u = t - 60;
  return {.stack = 520 - 226 * std::exp(-u / 90),
          .oxygen = 0.05 + 0.159 * std::exp(-u / 10),
          .monoxide = 20 * ppm + 150 * ppm * std::exp(-u / 20)};
}

/// `course(t)` every second over [from, to), with the noise of an ordinary instrument.
template <class F> void run(judged& j, F course, double from, double to, double every = 1) {
  quiet_flue show{static_cast<std::uint64_t>(from) + 1};
  for (double t = from; t < to; t += every) j.push(show(t, course(t)));
}
void rest(judged& j, double from, double to, const flue& f = {}) {
  run(j, [&](double) { return f; }, from, to);
}

TEST(phases, of_a_cold_flue_are_idle_for_ever) {
  judged j;
  run(j, [](double) { return fresh_air; }, 0, 7200);
  EXPECT_FALSE(j.ever(phase::steady)) << "the steadiest signal there is";
  ASSERT_EQ(j.phases.size(), 1U);
  EXPECT_EQ(j.phases[0].to, phase::idle);
  EXPECT_EQ(j.phases[0].why, cause::oxygen_at_air);
}

TEST(phases, never_are_steady_in_the_first_minute) {
  judged j;
  for (double t = 0; t < 60; t += 0.5) j.push(row(t, flue{}));
  EXPECT_FALSE(j.ever(phase::steady));
}

TEST(phases, go_from_idle_over_warm_up_and_settling_to_steady) {
  judged j;
  run(j, warming, 0, 1200);
  std::vector<phase> order;
  for (const auto& p : j.phases) order.push_back(p.to);
  EXPECT_EQ(order, (std::vector{phase::idle, phase::appliance_warm_up, phase::settling,
                                phase::steady}));
  const double claimed = *j.entered(phase::steady);
  const double pace = 226 / 90.0 * std::exp(-(claimed - 60) / 90) * 60;  // K/min
  EXPECT_LT(pace, 1.5 * invented::stack_allowance);
  EXPECT_LT(claimed, 700) << "and it does not wait for ever";
}

TEST(phases, change_from_what_they_were) {
  judged j;
  run(j, warming, 0, 900);
  rest(j, 900, 1000, {.stack = 470, .oxygen = 0.208, .monoxide = 0});
  phase before = phase::no_data;
  for (const auto& p : j.phases) {
    EXPECT_EQ(p.from, before);
    EXPECT_NE(p.why, cause::none);
    before = p.to;
  }
  EXPECT_EQ(j.verdicts.size(), 1000U) << "one verdict per row";
  EXPECT_EQ(j.verdicts.back().in, before);
}

TEST(phases, wait_for_the_slowest_channel) {
  judged j;
  run(j, [](double t) {
    return flue{.monoxide = 20 * ppm + 300 * ppm * std::exp(-t / 120)};
  }, 0, 1200);
  const auto claimed = j.entered(phase::steady);
  ASSERT_TRUE(claimed);
  const double pace = 300 / 120.0 * std::exp(-*claimed / 120) * 60;  // ppm/min, 5 allowed
  EXPECT_LT(pace, 1.5 * 5);
}

TEST(phases, ask_for_every_required_channel) {
  session_settings s;
  s.require({channel::stack_temp, channel::o2, channel::co, channel::draft_overfire});
  judged without{s}, with{s};
  quiet_flue show;
  for (int t = 0; t < 900; ++t) {
    frame f = show(t);
    without.push(f);
    f.indication.set(channel::draft_overfire, -5);
    with.push(f);
  }
  EXPECT_FALSE(without.ever(phase::steady)) << "no draft was ever measured";
  EXPECT_TRUE(with.ever(phase::steady));
}

TEST(phases, ask_for_a_channel_that_still_speaks) {
  judged j;
  quiet_flue show;
  for (int t = 0; t < 900; ++t) {
    frame f = show(t);
    if (t > 30) f.indication.clear(channel::co);
    j.push(f);
  }
  EXPECT_FALSE(j.ever(phase::steady)) << "CO fell silent after half a minute";
}

TEST(phases, do_not_count_on_a_channel_that_fell_silent) {
  judged j, patient;
  quiet_flue show;
  for (int t = 0; t < 900; ++t) {
    flue f;
    if (t < 600) f.oxygen += 0.01 / 60 * (t % 60);  // only the oxygen is restless
    frame row = show(t, f);
    if (t > 500) row.indication.clear(channel::co);
    j.push(row);
    frame other = show(t);
    if (t > 500 && t < 520) other.indication.clear(channel::co);
    patient.push(other);
  }
  EXPECT_FALSE(j.ever(phase::steady)) << "CO was steady once, and then not heard of again";
  EXPECT_FALSE(patient.ever(phase::disturbed)) << "some seconds of silence unsettle nothing";
}

TEST(phases, end_with_a_channel_that_stays_silent) {
  judged j;
  quiet_flue show;
  for (int t = 0; t < 900; ++t) {
    frame f = show(t);
    if (t > 500) f.indication.clear(channel::co);
    j.push(f);
  }
  const auto left = j.entered(phase::disturbed, 500);
  ASSERT_TRUE(left);
  EXPECT_NEAR(*left, 560, 5) << "a minute of patience";
  EXPECT_EQ(j.phases.back().which, channel::co);
}

TEST(phases, ask_for_no_fire_where_told_so) {
  session_settings s;
  s.phase.combustion_check = false;
  judged j{s};
  run(j, [](double) { return fresh_air; }, 0, 600);
  EXPECT_TRUE(j.ever(phase::steady)) << "a hood, an oven";
}

TEST(phases, end_steady_within_seconds_when_the_burner_stops) {
  judged j;
  rest(j, 0, 600);
  ASSERT_TRUE(j.ever(phase::steady));
  run(j, [](double t) {
    const double u = t - 600;
    return flue{.stack = 330 + 190 * std::exp(-u / 150),
                .oxygen = 0.209 - 0.159 * std::exp(-u / 8),
                .monoxide = 20 * ppm * std::exp(-u / 8)};
  }, 600, 800);
  const auto left = j.entered(phase::disturbed, 600);
  ASSERT_TRUE(left);
  EXPECT_LE(*left, 615);
  const auto cooled = j.entered(phase::cooling, 600);
  ASSERT_TRUE(cooled) << "and the cause is named";
  EXPECT_LE(*cooled, 660);
  EXPECT_EQ(j.phases.back().why, cause::burner_off);
  EXPECT_FALSE(j.entered(phase::steady, 600)) << "a cooling flue is nothing to read";
}

TEST(phases, tell_a_probe_pulled_from_a_burner_stopped) {
  judged j;
  rest(j, 0, 600);
  run(j, [](double t) {
    const double u = t - 600;
    return flue{.stack = 294 + 226 * std::exp(-u / 5),
                .oxygen = 0.209 - 0.159 * std::exp(-u / 8),
                .monoxide = 20 * ppm * std::exp(-u / 8)};
  }, 600, 800);
  ASSERT_TRUE(j.entered(phase::fresh_air, 600));
  EXPECT_EQ(j.phases.back().why, cause::probe_out);
}

TEST(phases, see_air_that_mixes_in) {
  judged j;
  rest(j, 0, 600);
  const double share = 0.2;  // of the sample is room air
  run(j, [&](double t) {
    const double part = share * (1 - std::exp(-(t - 600) / 4));
    return flue{.stack = 520 - part * 226, .oxygen = 0.05 + part * 0.159,
                .monoxide = 20 * ppm * (1 - part)};
  }, 600, 900);
  bool diluted = false;
  for (const auto& p : j.phases) diluted |= p.why == cause::diluted;
  EXPECT_TRUE(diluted);
  EXPECT_FALSE(j.entered(phase::steady, 600)) << "a diluted reading is never settled";
}

TEST(phases, name_another_firing_stage) {
  judged j;
  rest(j, 0, 600);
  run(j, [](double t) {
    const double u = t - 600;
    return flue{.stack = 520 + 80 * (1 - std::exp(-u / 40)),
                .oxygen = 0.05 - 0.01 * (1 - std::exp(-u / 10))};
  }, 600, 1200);
  bool named = false;
  for (const auto& p : j.phases) named |= p.why == cause::stage_change;
  EXPECT_TRUE(named);
  EXPECT_TRUE(j.entered(phase::steady, 700)) << "the second stage settles on its own";
}

TEST(phases, end_with_a_channel_that_is_stuck) {
  judged j;
  rest(j, 0, 600);
  const double frozen = 520;
  quiet_flue show{3};
  for (int t = 600; t < 900; ++t) {
    frame f = show(t);
    f.indication.set(channel::stack_temp, frozen);
    j.push(f);
  }
  const auto left = j.entered(phase::disturbed, 600);
  ASSERT_TRUE(left);
  EXPECT_LE(*left, 660);
  EXPECT_EQ(j.phases.back().why, cause::stuck);
  EXPECT_EQ(j.phases.back().which, channel::stack_temp);
  EXPECT_FALSE(j.entered(phase::steady, *left));
}

TEST(phases, name_the_channel_that_decided) {
  judged j;
  rest(j, 0, 600);
  rest(j, 600, 640, {.monoxide = 90 * ppm});
  ASSERT_EQ(j.phases.back().to, phase::disturbed);
  EXPECT_EQ(j.phases.back().which, channel::co);
}

TEST(phases, do_not_return_to_steady_without_new_proof) {
  judged j;
  rest(j, 0, 600);
  rest(j, 600, 1200, {.stack = 545});
  const auto again = j.entered(phase::steady, 600);
  ASSERT_TRUE(again);
  EXPECT_GE(*again, 600 + steadiness_settings{}.spans[0] * 0.9) << "a whole window";
}

TEST(phases, are_no_data_after_a_silence) {
  judged j;
  rest(j, 0, 600);
  j.advance(620);
  EXPECT_FALSE(j.ever(phase::no_data));
  j.advance(700);
  ASSERT_TRUE(j.entered(phase::no_data));
  EXPECT_EQ(j.phases.back().at, at(599) + phase_settings{}.gap) << "when the patience ended";
  EXPECT_EQ(j.phases.back().why, cause::gap);
}

// Law 2.
TEST(phases, say_the_same_whether_or_not_time_is_told) {
  judged told, untold;
  const auto course = [](double t) { return t < 800 ? warming(t) : flue{}; };
  quiet_flue a{1}, b{1};
  for (double t = 0; t < 1500; t += 1) {
    if (t > 700 && t < 790) {
      told.advance(t);
      continue;
    }
    told.advance(t - 0.5);
    told.push(a(t, course(t)));
    untold.push(b(t, course(t)));
  }
  EXPECT_EQ(told.phases, untold.phases);
  EXPECT_TRUE(told.ever(phase::no_data));
}

TEST(phases, believe_the_person_at_the_probe) {
  phases judge{phase_settings{}};
  phase is{};
  int notes = 0;
  auto hear = overloaded{[&](const verdict& v) { is = v.in; }, [&](const note&) { ++notes; },
                         [](const phase_change&) {}};
  verdict v;
  v.row = row(0, invented::fresh_air);
  judge.push(verdict{v}, hear);
  EXPECT_EQ(is, phase::idle);
  judge.push(note{.text = "fresh air"}, hear);
  v.row.at = at(1);
  judge.push(verdict{v}, hear);
  EXPECT_EQ(is, phase::fresh_air);
  judge.push(note{.text = "probe in"}, hear);
  v.row.at = at(2);
  judge.push(verdict{v}, hear);
  EXPECT_EQ(is, phase::idle);
  EXPECT_EQ(notes, 2) << "and hand the notes on";
}

TEST(phases, begin_anew_after_a_break) {
  judged j;
  rest(j, 0, 600);
  j.push(discontinuity{0, at(600), break_kind::restart});
  rest(j, 600, 640);
  EXPECT_EQ(j.verdicts.back().in, phase::appliance_warm_up) << "a fire is seen at once";
  EXPECT_FALSE(j.entered(phase::steady, 600)) << "nothing leans on rows before the break";
}

TEST(phases, do_not_become_steady_while_the_instrument_warms_up) {
  // All off by what decays with 90 s, the room's channel 8 degF at first: below 0.5 at 249.5 s.
  const auto cold = [](double t) {
    const double e = invented::degree_f * std::exp(-t / 90);
    return flue{520 - 10 * e, 294 - 8 * e, 0.05 + 0.01 * e, 20 * ppm + 20 * ppm * e};
  };
  judged j;
  for (double t = 0; t < 600; t += 2) j.push(row(t, cold(t)));
  ASSERT_TRUE(j.ever(phase::instrument_warm_up));
  const double claimed = *j.entered(phase::steady);
  EXPECT_GT(claimed, 249.5 - 15) << "the stack moves by less than 3 degF/min from 72 s on";
  EXPECT_LT(claimed, 249.5 + 30);
  ASSERT_EQ(j.readings.size(), 1U);
  EXPECT_GE(when(j.readings[0].from), claimed - 20) << "it leans on no row from before";
}

TEST(phases, of_a_probe_said_to_be_in_fresh_air_are_that_once_it_is_cold) {
  judged j;
  run(j, warming, 0, 900);
  rest(j, 900, 1000, {.stack = 400, .oxygen = 0.209, .monoxide = 0});
  j.push(note{1, std::nullopt, "fresh air"});
  rest(j, 1000, 1020, {.stack = 340, .oxygen = 0.209, .monoxide = 0});
  EXPECT_NE(j.phases.back().to, phase::fresh_air) << "hot: not out yet";
  rest(j, 1020, 1060, fresh_air);
  EXPECT_EQ(j.phases.back().to, phase::fresh_air);
  EXPECT_EQ(j.phases.back().why, cause::said);
}

}  // namespace
}  // namespace stilling
