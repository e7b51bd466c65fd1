// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT

#include "stilling/stages/prescribed_mean.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <concepts>
#include <type_traits>
#include <utility>
#include <vector>

#include "support/flue.hpp"

namespace stilling {
namespace {

using invented::at;
using invented::flue;
using invented::row;
using invented::when;

constexpr auto stack = channel::stack_temp, oxygen = channel::o2;

static_assert(std::is_trivially_copyable_v<prescribed_mean>);
static_assert(accepts<prescribed_mean, verdict> && !accepts<prescribed_mean, frame>);
static_assert(std::same_as<prescribed_mean::emits, items<verdict, settled_reading>>);

constexpr reading_rule thirty_seconds(duration waiting = seconds(120)) {
  reading_rule r;
  r.readings = 1;
  r.mean = seconds(30);
  r.waiting = waiting;
  return r;
}

class told {
 public:
  explicit told(const reading_rule& r, bool with_fire = false)
      : stage_{r, {stack, oxygen}, with_fire} {}

  told& push(const frame& f, bool burning = true, judgement is = judgement::undecided) {
    verdict v;
    v.row = f;
    v.fire.burning = burning;
    trend_estimate e;
    e.is = is;
    e.measured = true;
    e.rate = 0.01;
    e.rate_bound = 0.02;
    e.scatter = 0.5;
    e.noise_density = 2;
    e.noise_freedom = 20;
    e.lag = 12;
    v.trends.set(stack, e);
    stage_.push(v, overloaded{[&](const settled_reading& r) { readings.push_back(r); },
                              [&](const verdict&) { ++passed; }});
    return *this;
  }
  told& rows(double from, double to, double every = 1, bool burning = true) {
    for (double t = from; t < to; t += every) push(row(t, flue{.stack = 400 + t}), burning);
    return *this;
  }
  void finish() { stage_.finish(any_sink{}); }

  std::vector<settled_reading> readings;
  int passed = 0;

 private:
  prescribed_mean stage_;
};

TEST(prescribed_mean, where_there_is_no_such_rule_lets_verdicts_pass) {
  told t{reading_rule{}};
  t.rows(0, 300);
  EXPECT_EQ(t.passed, 300);
  EXPECT_TRUE(t.readings.empty());
}

TEST(prescribed_mean, is_over_its_time_exactly) {
  told t{thirty_seconds()};
  t.rows(0, 150);
  EXPECT_TRUE(t.readings.empty()) << "149 s: who knows whether a row is still to come";
  t.rows(150, 400);
  EXPECT_EQ(t.passed, 0) << "in place of the plateau";
  ASSERT_EQ(t.readings.size(), 2U) << "once";
  const auto& open = t.readings[0];
  const auto& closed = t.readings[1];
  EXPECT_FALSE(open.to || open.released);
  EXPECT_EQ(open.ended, cause::none);
  EXPECT_EQ(open.declared, at(150));
  EXPECT_EQ(closed.declared, open.declared);
  EXPECT_EQ(closed.from, at(120));
  EXPECT_EQ(closed.to, at(149));
  EXPECT_EQ(closed.ended, cause::complete);
  EXPECT_EQ(closed.channels[stack].mean, 400 + (120 + 149) / 2.0);
  EXPECT_EQ(closed.channels[stack].count, 30U);
  EXPECT_EQ(closed.channels[stack].coverage, 1);
}

TEST(prescribed_mean, knows_its_uncertainty_from_the_noise_that_was_measured) {
  told t{thirty_seconds()};
  t.rows(0, 200);
  const auto& r = t.readings.at(1).channels[stack];
  // The variance of a mean over T seconds is the density over T (2 / 30), widened for 20 degrees of
  // freedom.
  EXPECT_GT(r.standard_uncertainty, std::sqrt(2.0 / 30));
  EXPECT_LT(r.standard_uncertainty, 1.1 * std::sqrt(2.0 / 30));
  EXPECT_EQ(r.rate, 0.01);
  EXPECT_EQ(r.rate_bound, 0.02);
  EXPECT_EQ(r.lag, 12) << "a gas behind the stack is so by any rule";
  EXPECT_FALSE(t.readings[1].channels[oxygen].rate_bound) << "not measured is unknown";
}

TEST(prescribed_mean, waits_from_the_fire_and_reads_each_burn_once) {
  told t{thirty_seconds(), true};
  t.rows(0, 500, 1, false).rows(500, 800).rows(800, 900, 1, false).rows(900, 1200);
  ASSERT_EQ(t.readings.size(), 4U);
  EXPECT_EQ(t.readings[1].from, at(620));
  EXPECT_EQ(t.readings[3].from, at(1020));
}

TEST(prescribed_mean, of_a_fire_that_goes_out_is_none) {
  told t{thirty_seconds(), true};
  t.rows(0, 149).rows(149, 300, 1, false);
  EXPECT_TRUE(t.readings.empty());
}

TEST(prescribed_mean, that_is_torn_begins_again) {
  told even{thirty_seconds()}, torn{thirty_seconds()}, late{thirty_seconds()};
  even.rows(0, 200, 10);
  ASSERT_EQ(even.readings.size(), 2U) << "every 10 s is a third of 30";
  EXPECT_EQ(even.readings[1].channels[stack].count, 3U);
  torn.rows(0, 131).rows(141.5, 300);
  ASSERT_EQ(torn.readings.size(), 2U);
  EXPECT_EQ(torn.readings[1].from, at(141.5));
  late.rows(0, 140).rows(150.5, 300);
  ASSERT_EQ(late.readings.size(), 2U);
  EXPECT_EQ(late.readings[1].from, at(150.5)) << "11 s of its end were not heard";
}

TEST(prescribed_mean, asks_every_required_channel) {
  told t{thirty_seconds()};
  for (double s = 0; s < 130; s += 1) t.push(row(s, flue{}));
  for (double s = 130; s < 145; s += 1) t.push(row(s, stack, 500));
  for (double s = 145; s < 200; s += 1) t.push(row(s, flue{}));
  ASSERT_EQ(t.readings.size(), 2U);
  EXPECT_EQ(t.readings[1].from, at(140)) << "where O2 had been out for more than 10 s";
  EXPECT_EQ(t.readings[1].channels[oxygen].count, 25U);
}

TEST(prescribed_mean, sets_aside_what_is_doubted_and_says_so) {
  told t{thirty_seconds()};
  for (double s = 0; s <= 150; s += 1) {
    frame f = row(s, flue{});
    if (s == 130) f.indication.set(stack, 900), f.add_mark(stack, quality::outlier);
    t.push(f);
  }
  ASSERT_EQ(t.readings.size(), 2U);
  const auto& r = t.readings[1].channels[stack];
  EXPECT_EQ(r.set_aside, 1U);
  EXPECT_EQ(r.count, 29U);
  EXPECT_NEAR(r.mean, flue{}.stack, 1e-9);
}

TEST(prescribed_mean, says_whether_it_moved) {
  told still{thirty_seconds()}, moving{thirty_seconds()};
  for (double s = 0; s < 200; s += 1) {
    still.push(row(s, flue{}), true, judgement::steady);
    moving.push(row(s, flue{}), true, judgement::transient);
  }
  EXPECT_FALSE(still.readings.at(1).creeping);
  EXPECT_TRUE(moving.readings.at(1).creeping);
}

TEST(prescribed_mean, ends_what_one_series_proved_with_the_row_after_it) {
  reading_rule r;
  r.readings = 8;
  r.once = true;
  prescribed_mean stage{r, {stack}, true};
  std::vector<std::pair<phase, cause>> said;
  const auto push = [&](phase in, bool burning) {
    verdict v;
    v.in = in;
    v.why = cause::within_limits;
    v.fire.burning = burning;
    stage.push(v, overloaded{[&](const verdict& x) { said.emplace_back(x.in, x.why); },
                             [](const settled_reading&) { FAIL(); }});
  };
  const std::vector<std::pair<phase, bool>> course{
      {phase::settling, true}, {phase::steady, true},    {phase::steady, true},
      {phase::steady, true},   {phase::disturbed, true}, {phase::steady, true},
      {phase::idle, false},    {phase::steady, true},    {phase::steady, true}};
  for (const auto& [in, burning] : course) push(in, burning);
  const std::vector<phase> told{phase::settling,  phase::steady,   phase::settling,
                                phase::settling,  phase::disturbed, phase::settling,
                                phase::idle,      phase::steady,   phase::settling};
  ASSERT_EQ(said.size(), told.size());
  for (std::size_t i = 0; i < told.size(); ++i) EXPECT_EQ(said[i].first, told[i]) << i;
  EXPECT_EQ(said[2].second, cause::complete);
  EXPECT_EQ(said[4].second, cause::within_limits) << "as it came";
}

TEST(prescribed_mean, after_the_last_word_is_as_new) {
  told t{thirty_seconds()};
  t.rows(0, 140);
  t.finish();
  t.rows(200, 340);
  EXPECT_TRUE(t.readings.empty());
  t.rows(340, 360);
  EXPECT_EQ(t.readings.size(), 2U);
}

}  // namespace
}  // namespace stilling
