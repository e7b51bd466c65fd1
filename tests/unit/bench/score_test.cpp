// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#include "quality/score.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <cstddef>
#include <vector>

namespace stilling::scoreboard {
namespace {

std::vector<course> approaches() {
  std::vector<course> all;
  for (std::uint64_t seed = 1; seed <= 40; ++seed) all.push_back(invented_approach(seed));
  return all;
}

/// Claims so long after the truth; knows what no rule can.
contender oracle(double late) {
  contender who;
  who.name = "oracle";
  who.thresholds = {limit};
  who.watch = [late](const course& c, std::span<const double>) {
    return std::vector<claim>{c.settled_at() + late};
  };
  who.follow = [late](const course& c, std::span<const double>) {
    course_of_word word;
    for (double t = first_look; t <= c.length; t += look_every) {
      word.at.push_back(t);
      word.holds.push_back(t <= c.leaves_at + late);
    }
    return std::vector<course_of_word>{word};
  };
  return who;
}

TEST(scoreboard, an_oracle_scores_perfectly) {
  const auto all = watch_all(oracle(1), approaches());
  EXPECT_EQ(all[0].above_3, 0U);
  EXPECT_EQ(all[0].claimed, 40U);
  EXPECT_NEAR(quantile(all[0].delays, 0.5), 1, 1e-6);
}

TEST(scoreboard, who_always_claims_scores_badly) {
  const contender at_once = constant("at once", "", {first_look, 300});
  const auto all = watch_all(at_once, approaches());
  EXPECT_GT(all[0].share(all[0].above_3), 0.95);
  EXPECT_LT(quantile(all[0].delays, 0.5), -100);
  // At no threshold is it premature seldom enough to be compared.
  EXPECT_FALSE(delay_interval_at(all, at_once.thresholds, 0.01, 0.5));
  std::vector<course> ramps;
  for (std::uint64_t seed = 1; seed <= 20; ++seed) ramps.push_back(invented_ramp(seed, 4));
  EXPECT_EQ(ramps_claimed(at_once, ramps), 20U);
  // And its readings are far from where the approach ends.
  const auto readings = read_all(at_once, approaches());
  EXPECT_GT(quantile(readings.final_errors, 0.5), 100);
}

TEST(scoreboard, who_never_claims_waits_for_ever) {
  const auto all = watch_all(constant("never", "", {1e9}), approaches());
  EXPECT_EQ(all[0].claimed, 0U);
  EXPECT_EQ(all[0].above_3, 0U);
  EXPECT_FALSE(all[0].delay_of_all(0.5));
}

TEST(scoreboard, literal_end_points_are_premature_and_a_bound_is_not) {
  const auto courses = approaches();
  const auto share = [&](const contender& who) {
    const auto all = watch_all(who, courses);
    return all[0].share(all[0].above_3);
  };
  EXPECT_GT(share(looked_at("", "", limit, end_points)), 0.7);
  EXPECT_LT(share(over("", "", limit, slope_bound, 180)), 0.05);
}

TEST(scoreboard, delay_at_an_equal_share_lies_between_two_thresholds) {
  // Ten runs; the stricter threshold is never premature at 100 s, the laxer in two at 40 s.
  std::vector<outcome> all(2);
  for (std::size_t k = 0; k < 10; ++k) {
    all[0].premature_of.push_back(k < 2);
    all[0].delay_of.push_back(40);
    all[1].premature_of.push_back(false);
    all[1].delay_of.push_back(100);
  }
  all[0].runs = all[1].runs = 10;
  const std::vector<double> thresholds{2, 1};
  const std::vector<std::size_t> each{0, 1, 2, 3, 4, 5, 6, 7, 8, 9};
  EXPECT_DOUBLE_EQ(*delay_at(all, thresholds, each, 0.1, 0.5), 70);
  EXPECT_DOUBLE_EQ(*delay_at(all, thresholds, each, 0.0, 0.5), 100);
  EXPECT_DOUBLE_EQ(*delay_at(all, thresholds, each, 0.5, 0.5), 40);
  const auto known = delay_interval_at(all, thresholds, 0.1, 0.5);
  ASSERT_TRUE(known);
  EXPECT_LE(known->low, 70);
  EXPECT_GE(known->high, 70);
}

TEST(scoreboard, releases_are_timed_and_false_ones_counted) {
  std::vector<course> courses;
  for (std::uint64_t seed = 1; seed <= 20; ++seed) courses.push_back(invented_departure(seed));
  const auto prompt = release_all(oracle(12), courses);
  EXPECT_EQ(prompt[0].settled, 20U);
  EXPECT_EQ(prompt[0].false_releases, 0U);
  EXPECT_LE(quantile(prompt[0].delays, 0.9), 12 + look_every);
  EXPECT_GE(quantile(prompt[0].delays, 0.1), 12);
  const auto deaf = release_all(oracle(1e6), courses);
  EXPECT_EQ(quantile(deaf[0].delays, 0.5), for_ever);

  release_outcome o;
  // Held, lost, held again, left at 100, lost at 110.
  follow_release({{60, 70, 80, 90, 105, 110}, {true, false, true, true, true, false}}, 100, o);
  EXPECT_EQ(o.false_releases, 1U);
  EXPECT_EQ(o.settled, 1U);
  EXPECT_DOUBLE_EQ(o.delays.at(0), 10);
  EXPECT_DOUBLE_EQ(o.hours, 40.0 / 3600);
  // Not held when it was left: no release to be timed.
  follow_release({{60, 90, 110}, {true, false, false}}, 100, o);
  EXPECT_EQ(o.runs, 2U);
  EXPECT_EQ(o.settled, 1U);
}

TEST(scoreboard, readings_are_held_to_the_truth) {
  course c = invented_approach(1);
  const double level = c.value(1500);
  const stated_reading good{1500, 1500, level, 1, 0}, off{1500, 1500, level + 5, 1, 0};
  c.rows.push_back({1500, level});
  std::ranges::sort(c.rows, {}, &sample::t);
  EXPECT_TRUE(mark(good, c).holds_level);
  EXPECT_FALSE(mark(off, c).holds_level);
  // A rise widens the interval upwards only.
  stated_reading low{1500, 1500, c.final_value() - 5, 1, 4.5};
  EXPECT_TRUE(mark(low, c).holds_final);
  low.rise = -4.5;
  EXPECT_FALSE(mark(low, c).holds_final);
}

TEST(scoreboard, r_statistic_on_steady_white_noise_is_near_one) {
  // Tails found by simulation: 5 % below 0.770 and 5 % above 1.437 for 0.2, 0.1, 0.1.
  auto draw = invented::chance{1, "white"};
  std::size_t above = 0, below = 0, all = 0;
  for (int chain = 0; chain < 2000; ++chain) {
    r_statistic r{0.2, 0.1, 0.1};
    for (int i = 0; i < 150; ++i) r.update(draw.normal());
    const double ratio = r.ratio().value();
    above += ratio > 1.437 ? 1U : 0U;
    below += ratio < 0.770 ? 1U : 0U;
    ++all;
  }
  EXPECT_NEAR(static_cast<double>(above) / static_cast<double>(all), 0.05, 0.015);
  EXPECT_NEAR(static_cast<double>(below) / static_cast<double>(all), 0.05, 0.015);
}

TEST(scoreboard, cuts_of_finished_logs_leave_the_warm_up_out) {
  const course c = invented_warm_up(3);
  for (const std::size_t d : {mser(c.rows, 5, true).value(), least_error_cut(c.rows),
                              most_independent_cut(c.rows)}) {
    EXPECT_GT(d, 100U);
    EXPECT_LT(c.remaining(c.rows[d].t), 30);
  }
}

TEST(scoreboard, upper_limit_of_none_in_a_hundred) {
  // Clopper and Pearson: 1 - 0.05^(1/100).
  EXPECT_NEAR(upper_limit(0, 100), 1 - std::pow(0.05, 0.01), 1e-9);
  EXPECT_EQ(upper_limit(5, 5), 1);
}

}  // namespace
}  // namespace stilling::scoreboard
