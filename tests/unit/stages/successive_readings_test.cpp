// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT

#include "stilling/stages/successive_readings.hpp"

#include <gtest/gtest.h>

#include <concepts>
#include <optional>
#include <type_traits>
#include <vector>

#include "support/flue.hpp"

namespace stilling {
namespace {

using invented::at;
using invented::row;
using invented::when;

constexpr auto stack = channel::stack_temp, oxygen = channel::o2;

static_assert(std::is_trivially_copyable_v<successive_readings>);
static_assert(accepts<successive_readings, verdict> && !accepts<successive_readings, frame>);
static_assert(std::same_as<successive_readings::emits, items<verdict>>, "one verdict per row");

constexpr reading_rule within(double kelvins, std::uint32_t readings = 3,
                              duration apart = seconds(60)) {
  reading_rule r;
  r.readings = readings;
  r.set_apart(apart);
  r.allowed.set(stack, {variation::range, unit::kelvin, kelvins, 0});
  return r;
}

/// One channel, as the stages before would hand it on.
class looked_at {
 public:
  explicit looked_at(const reading_rule& r, bool with_fire = false) : stage_{r, with_fire} {}

  trend_estimate push(double t, double x, judgement by_rate = judgement::steady,
                      quality mark = quality::good, bool burning = true) {
    verdict v;
    v.row = row(t, stack, x);
    v.row.add_mark(stack, mark);
    v.fire.burning = burning;
    trend_estimate e;
    e.is = by_rate;
    e.measured = true;
    e.rate = 0.001;
    e.scatter = 0.2;
    v.trends.set(stack, e);
    v.trends.set(oxygen, e);
    stage_.push(verdict{v}, [&](const verdict& out) { said = out; });
    return said.trends[stack];
  }
  judgement is(double t, double x) { return push(t, x).is; }
  std::optional<double> first_steady(double from, double to, double x, double every = 1) {
    for (double t = from; t <= to; t += every)
      if (is(t, x) == judgement::steady) return t;
    return std::nullopt;
  }
  void finish() { stage_.finish(any_sink{}); }

  verdict said;

 private:
  successive_readings stage_;
};

TEST(successive_readings, without_a_rule_hand_on_what_was_said) {
  looked_at l{reading_rule{}};
  const auto got = l.push(0, 500);
  EXPECT_EQ(got.is, judgement::steady);
  EXPECT_EQ(got.rate, 0.001);
}

TEST(successive_readings, stand_in_place_of_the_rates_and_leave_what_was_measured) {
  looked_at l{within(2)};
  EXPECT_EQ(l.is(0, 500), judgement::undecided) << "whatever its rate says";
  EXPECT_EQ(l.is(60, 501), judgement::undecided);
  const auto got = l.push(120, 502, judgement::transient);
  EXPECT_EQ(got.is, judgement::steady) << "likewise";
  EXPECT_TRUE(got.within);
  EXPECT_EQ(got.since, at(0));
  EXPECT_EQ(got.rate, 0.001);
  EXPECT_EQ(got.scatter, 0.2);
  EXPECT_EQ(l.said.trends[oxygen].is, judgement::transient) << "of which the rule says nothing";
}

TEST(successive_readings, that_are_too_few_leave_what_moves_moving) {
  looked_at l{within(2)};
  EXPECT_EQ(l.push(0, 500, judgement::transient).is, judgement::transient);
  EXPECT_EQ(l.push(60, 500, judgement::steady).is, judgement::undecided);
}

TEST(successive_readings, that_disagree_are_transient_until_the_newest_agree) {
  looked_at l{within(2)};
  const std::vector<std::pair<double, judgement>> rows{
      {500, judgement::undecided}, {501, judgement::undecided}, {503, judgement::transient},
      {503, judgement::steady},    {502, judgement::steady},    {505, judgement::transient}};
  double t = 0;
  for (const auto& [x, is] : rows) {
    EXPECT_EQ(l.is(t, x), is) << t;
    t += 60;
  }
}

TEST(successive_readings, are_rows_at_their_times_and_no_others) {
  looked_at l{within(2)};
  for (double t = 0; t <= 120; t += 1) {
    const bool reading = t == 0 || t == 60 || t == 120;
    EXPECT_EQ(l.is(t, reading ? 500 : 500 + (static_cast<int>(t) % 2 == 0 ? 10 : -10)),
              t < 120 ? judgement::undecided : judgement::steady)
        << t;
  }
}

TEST(successive_readings, in_which_one_is_missed_begin_again) {
  looked_at l{within(2)};
  EXPECT_EQ(l.first_steady(0, 50, 500), std::nullopt);
  EXPECT_EQ(l.first_steady(67, 300, 500), 67 + 120);
}

TEST(successive_readings, once_steady_are_lost_with_a_missed_one) {
  looked_at l{within(2)};
  ASSERT_EQ(l.first_steady(0, 200, 500), 120);
  for (double t = 121; t <= 150; t += 1) l.push(t, 500);
  l.push(190, 500);
  EXPECT_FALSE(l.said.trends.has(stack)) << "nothing is known of it, which is no departure";
  EXPECT_EQ(l.first_steady(191, 400, 500), 190 + 120);
}

TEST(successive_readings, are_missed_also_where_rows_go_on_without_a_value) {
  looked_at l{within(2)};
  ASSERT_EQ(l.first_steady(0, 200, 500), 120);
  for (double t = 121; t <= 190 && l.said.trends.has(stack); t += 1)
    l.push(t, 500, judgement::steady, quality::stuck);
  EXPECT_EQ(when(l.said.row.at), 187) << "a tenth of a minute after it was due";
}

TEST(successive_readings, are_no_rows_that_are_doubted) {
  looked_at l{within(2)};
  l.push(0, 500);
  for (double t = 1; t < 60; t += 1) l.push(t, 500);
  l.push(60, 900, judgement::steady, quality::outlier);
  l.push(61, 500);
  EXPECT_EQ(l.first_steady(62, 200, 500), 121) << "a minute after the row that was taken";
}

TEST(successive_readings, end_where_rows_between_them_have_left_for_good) {
  looked_at l{within(2)};
  ASSERT_EQ(l.first_steady(0, 200, 500), 120);
  double left = 0;
  for (double t = 121; t < 180 && left == 0; t += 1) {
    const auto got = l.push(t, t < 125 ? 500 : 503);
    if (got.departed) {
      left = t;
      EXPECT_EQ(got.departed, at(125));
      EXPECT_EQ(got.is, judgement::transient);
    }
  }
  EXPECT_EQ(left, 155);
}

TEST(successive_readings, outlast_rows_that_come_back_or_lie_on_both_sides) {
  looked_at spikes{within(2)}, noisy{within(2)};
  ASSERT_EQ(spikes.first_steady(0, 200, 500), 120);
  ASSERT_EQ(noisy.first_steady(0, 200, 500), 120);
  for (double t = 121; t < 180; t += 1) {
    const int n = static_cast<int>(t);
    EXPECT_EQ(spikes.is(t, n % 20 == 0 ? 500 : 510), judgement::steady);
    EXPECT_EQ(noisy.is(t, n % 2 == 0 ? 490 : 510), judgement::steady);
  }
}

TEST(successive_readings, begin_with_a_fire_and_after_the_waiting) {
  auto r = within(2);
  r.waiting = seconds(30);
  looked_at l{r, true};
  for (double t = 0; t < 300; t += 1)
    EXPECT_EQ(l.push(t, 300, judgement::steady, quality::good, false).is, judgement::undecided);
  EXPECT_EQ(l.first_steady(300, 500, 300), 300 + 30 + 120);
  EXPECT_EQ(l.push(501, 300, judgement::steady, quality::good, false).is, judgement::undecided);
  EXPECT_EQ(l.first_steady(502, 700, 300), 502 + 30 + 120) << "and with the next one";
}

TEST(successive_readings, may_be_means) {
  auto r = within(2);
  r.mean = seconds(10);
  looked_at l{r};
  std::optional<double> steady;
  for (double t = 0; t <= 200 && !steady; t += 1) {
    // Each row is far off, their means are not.
    if (l.is(t, static_cast<int>(t) % 2 == 0 ? 490 : 510) == judgement::steady) steady = t;
  }
  EXPECT_EQ(steady, 10 + 120);
}

TEST(successive_readings, of_uneven_distances_begin_again_with_what_does_not_agree) {
  auto r = within(2, 4);
  r.apart = {seconds(20), seconds(30), seconds(100)};
  EXPECT_EQ(looked_at{r}.first_steady(0, 300, 500), 150);
  looked_at l{r};
  double t = 0;
  for (; t < 50; t += 1) l.push(t, 500);
  EXPECT_EQ(l.is(50, 503), judgement::transient);
  EXPECT_EQ(l.first_steady(51, 300, 503), 50 + 150);
  for (t = 201; t < 2000; t += 1) EXPECT_EQ(l.is(t, 503), judgement::steady) << t;
  for (; t < 2031; t += 1) l.push(t, 506);
  EXPECT_EQ(l.said.trends[stack].is, judgement::transient) << "until the rows leave";
}

TEST(successive_readings, wanted_once_are_not_taken_further) {
  auto r = within(2);
  r.once = true;
  looked_at l{r};
  ASSERT_EQ(l.first_steady(0, 200, 500), 120);
  for (double t = 121; t < 1000; t += 1)  // by then another three would not agree
    EXPECT_EQ(l.is(t, static_cast<int>(t) % 180 < 20 ? 503 : 500), judgement::steady) << t;
}

// A burner that goes off takes the oxygen along at once, the stack some seconds later.
TEST(successive_readings, end_where_another_channel_was_seen_to_leave_before) {
  successive_readings stage{within(2), true};
  std::optional<instant> departed;
  for (double t = 0; t <= 150; t += 1) {
    verdict v;
    v.row = row(t, stack, 500);
    v.fire.burning = t < 150;
    v.trends.set(stack, {});
    trend_estimate o;
    if (t == 140) o.departed = at(137);
    v.trends.set(oxygen, o);
    stage.push(verdict{v}, [&](const verdict& out) { departed = out.trends[stack].departed; });
  }
  EXPECT_EQ(departed, at(137));
}

TEST(successive_readings, after_the_last_word_are_as_new) {
  looked_at l{within(2)};
  ASSERT_EQ(l.first_steady(0, 200, 500), 120);
  l.finish();
  EXPECT_EQ(l.first_steady(200, 400, 500), 320);
}

}  // namespace
}  // namespace stilling
