// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT

#include "stilling/stages/steadiness.hpp"

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
using invented::noise;
using invented::row;
using invented::slow_noise;
using invented::stack_allowance;
using invented::when;

static_assert(std::is_trivially_copyable_v<steadiness<>>);
static_assert(accepts<steadiness<>, frame> && !accepts<steadiness<>, verdict>);
static_assert(std::same_as<steadiness<>::emits, items<verdict>>, "one verdict per row");

constexpr auto stack = channel::stack_temp;

struct look {
  double t;
  trend_estimate is;
};

/// x(t) every `every` seconds, and what is said of each row.
template <class F>
std::vector<look> looks_at(F x, double lasting, double every = 1, channel c = stack,
                           const steadiness_settings& s = {}) {
  std::vector<look> seen;
  steadiness<> judge{s};
  for (double t = 0; t <= lasting; t += every)
    judge.push(row(t, c, x(t)),
               [&](const verdict& v) { seen.push_back({t, v.trends[c]}); });
  return seen;
}
bool ever(judgement j, const std::vector<look>& seen, double from = 0, double to = 1e9) {
  for (const auto& x : seen)
    if (x.is.is == j && x.t >= from && x.t <= to) return true;
  return false;
}
bool always(judgement j, const std::vector<look>& seen, double from, double to = 1e9) {
  for (const auto& x : seen)
    if (x.is.is != j && x.t >= from && x.t <= to) return false;
  return true;
}
double per_minute(double kelvins) { return kelvins / 60; }

TEST(steadiness, cannot_tell_from_half_a_window) {
  const double shortest = steadiness_settings{}.spans[0];
  const auto seen = looks_at([](double) { return 520.0; }, shortest / 2);
  EXPECT_TRUE(always(judgement::undecided, seen, 0));
  for (const auto& x : seen) EXPECT_FALSE(x.is.measured) << "unknown, not zero";
}

TEST(steadiness, cannot_tell_from_a_handful_of_values) {
  const auto seen = looks_at([](double) { return 520.0; }, 60, 20);
  EXPECT_TRUE(always(judgement::undecided, seen, 0));
}

TEST(steadiness, is_shown_by_a_flue_at_rest_within_minutes) {
  noise draw{1};
  const auto seen = looks_at([&](double) { return 520 + 0.3 * draw(); }, 900);
  EXPECT_FALSE(ever(judgement::steady, seen, 0, 50)) << "not in the first minute";
  EXPECT_TRUE(always(judgement::steady, seen, 180));
  EXPECT_NEAR(seen.back().is.level, 520, 0.5);
  EXPECT_NEAR(seen.back().is.rate, 0, per_minute(stack_allowance) / 2);
}

TEST(steadiness, keeps_to_the_limit_of_three_degrees_a_minute) {
  for (const double pace : {0.5, -0.5, 1.0, -1.0}) {
    noise draw{2};
    const auto seen = looks_at(
        [&](double t) { return 520 + per_minute(pace * degree_f) * t + 0.1 * draw(); }, 900);
    EXPECT_TRUE(always(judgement::steady, seen, 240)) << pace << " degF/min";
  }
  for (const double pace : {6.0, -6.0, 20.0}) {
    noise draw{2};
    const auto seen = looks_at(
        [&](double t) { return 520 + per_minute(pace * degree_f) * t + 0.1 * draw(); }, 900);
    EXPECT_FALSE(ever(judgement::steady, seen)) << pace << " degF/min";
    EXPECT_TRUE(always(judgement::transient, seen, 240)) << pace << " degF/min";
    EXPECT_NEAR(seen.back().is.rate, per_minute(pace * degree_f), per_minute(0.3));
  }
}

TEST(steadiness, needs_proof_and_noise_is_none) {
  noise draw{3};
  const auto seen = looks_at([&](double) { return 520 + 25 * draw(); }, 900);
  EXPECT_FALSE(ever(judgement::steady, seen)) << "cannot be shown to be within its limit";
}

TEST(steadiness, of_noisier_rows_comes_later_never_sooner) {
  const auto first_claim = [](double sd) {
    double sum = 0;
    for (std::uint64_t seed = 1; seed <= 10; ++seed) {
      noise draw{seed};
      double claim = 1200;
      for (const auto& x : looks_at([&](double) { return 520 + sd * draw(); }, 1200)) {
        if (x.is.is != judgement::steady) continue;
        claim = x.t;
        break;
      }
      sum += claim;
    }
    return sum / 10;
  };
  const double quiet = first_claim(0.1), middling = first_claim(1), loud = first_claim(3);
  EXPECT_LE(quiet, middling);
  EXPECT_LT(middling, loud);
}

TEST(steadiness, is_seldom_claimed_while_a_warming_flue_still_races) {
  int premature = 0;
  for (std::uint64_t seed = 1; seed <= 50; ++seed) {
    slow_noise draw{seed, 0.8};
    const double tau = 60 + 3.0 * static_cast<double>(seed);
    const auto seen = looks_at(
        [&](double t) { return 520 - 200 * std::exp(-t / tau) + 0.5 * draw(); }, 1200);
    for (const auto& x : seen) {
      if (x.is.is != judgement::steady) continue;
      if (200 / tau * std::exp(-x.t / tau) > 1.5 * per_minute(stack_allowance)) ++premature;
      break;
    }
  }
  EXPECT_LE(premature, 2) << "of 50 warm-ups, at more than one and a half times the limit";
}

TEST(steadiness, once_shown_is_not_lost_to_a_rate_about_the_limit) {
  noise draw{4};
  const double pace = per_minute(stack_allowance);
  const auto seen = looks_at(
      [&](double t) { return 520 + (t < 300 ? 0 : pace * (t - 300)) + 0.2 * draw(); }, 1200);
  EXPECT_TRUE(always(judgement::steady, seen, 200));
}

TEST(steadiness, is_not_lost_to_noise_however_long_one_looks) {
  int lost = 0;
  for (std::uint64_t seed = 1; seed <= 10; ++seed) {
    noise draw{seed};
    const auto seen = looks_at([&](double) { return 520 + 2 * draw(); }, 3600);
    EXPECT_TRUE(ever(judgement::steady, seen));
    bool was = false;
    for (const auto& x : seen) {
      const bool is = x.is.is == judgement::steady;
      if (was && !is) ++lost;
      was = is;
    }
  }
  EXPECT_LE(lost, 1) << "in ten hours";
}

TEST(steadiness, is_lost_to_twice_the_limit) {
  noise draw{4};
  const double pace = 2 * per_minute(stack_allowance);
  const auto seen = looks_at(
      [&](double t) { return 520 + (t < 300 ? 0 : pace * (t - 300)) + 0.2 * draw(); }, 1200);
  EXPECT_TRUE(ever(judgement::transient, seen, 300, 420)) << "within two minutes";
  EXPECT_FALSE(ever(judgement::steady, seen, 420));
}

/// At rest for ten minutes, then `event(t)` is added, t counted from there.
template <class F>
std::vector<look> rest_then(F event, double lasting = 120, std::uint64_t seed = 5) {
  noise draw{seed};
  return looks_at(
      [&](double t) { return 520 + 0.3 * draw() + (t < 600 ? 0.0 : event(t - 600)); },
      600 + lasting);
}

TEST(steadiness, survives_what_is_no_departure) {
  EXPECT_TRUE(always(judgement::steady, rest_then([](double t) { return t == 0 ? 60.0 : 0; }), 300))
      << "a lone spike";
  EXPECT_TRUE(always(judgement::steady, rest_then([](double t) { return t < 2 ? -8.0 : 0; }), 300))
      << "a gust of two rows";
  EXPECT_TRUE(always(judgement::steady, rest_then([](double) { return degree_f; }), 300))
      << "one degree for good";
}

TEST(steadiness, survives_one_step_of_a_coarse_display) {
  const auto seen = looks_at(
      [](double t) { return t < 600 ? 480.0 : 480.0 + 2 * degree_f; }, 1200);  // steps of 2 degF
  EXPECT_TRUE(always(judgement::steady, seen, 300));
  const auto oxygen = looks_at([](double t) { return t < 600 ? 0.050 : 0.051; }, 1200, 1,
                               channel::o2);
  EXPECT_TRUE(always(judgement::steady, oxygen, 300));
}

TEST(steadiness, is_lost_within_seconds_of_a_real_departure) {
  const auto left = rest_then([](double t) { return t < 1 ? 5.0 : t < 2 ? 9.0 : 12.0; });
  EXPECT_TRUE(always(judgement::steady, left, 300, 600)) << "nobody can know at the first row";
  EXPECT_TRUE(ever(judgement::transient, left, 600, 608));
  EXPECT_FALSE(ever(judgement::steady, left, 610, 640));
}

TEST(steadiness, of_a_channel_that_never_moved_is_lost_as_quickly) {
  for (const double jump : {1.5, 5.0, 50.0}) {
    const auto seen = looks_at([&](double t) { return t < 600 ? 20e-6 : (20 + 5 * jump) * 1e-6; },
                               700, 1, channel::co);
    EXPECT_TRUE(always(judgement::steady, seen, 300, 600));
    EXPECT_TRUE(ever(judgement::transient, seen, 600, 608)) << jump << " times five ppm";
  }
}

TEST(steadiness, says_with_which_row_a_departure_began) {
  const auto seen = rest_then([](double t) { return 2.0 * t; });
  for (const auto& x : seen) {
    if (!x.is.departed) continue;
    EXPECT_NEAR(when(*x.is.departed), 600, 3);
    EXPECT_LT(when(*x.is.departed), x.t) << "known later than it began";
    return;
  }
  FAIL() << "no departure was seen";
}

TEST(steadiness, returns_at_the_new_level) {
  const auto seen = rest_then([](double) { return 15.0; }, 600);
  EXPECT_FALSE(ever(judgement::steady, seen, 610, 640)) << "not from rows before the departure";
  EXPECT_TRUE(always(judgement::steady, seen, 900));
  EXPECT_NEAR(seen.back().is.level, 535, 0.5);
  ASSERT_TRUE(seen.back().is.since);
  EXPECT_GE(when(*seen.back().is.since), 600) << "proved by rows of the new level only";
}

TEST(steadiness, does_not_lean_across_a_gap) {
  noise draw{6};
  steadiness<> judge{steadiness_settings{}};
  bool too_soon = false, again = false;
  for (double t = 0; t < 400; t += 1) {
    if (t > 40 && t < 100) continue;  // 40 s, then a minute of silence
    judge.push(row(t, stack, 520 + 0.2 * draw()), [&](const verdict& v) {
      const bool steady = v.trends[stack].is == judgement::steady;
      if (t < 130) too_soon |= steady;
      if (t > 300) again |= steady;
    });
  }
  EXPECT_FALSE(too_soon) << "the two halves do not make a window";
  EXPECT_TRUE(again);
}

TEST(steadiness, judges_a_swing_in_the_mean_over_its_period) {
  noise draw{7};
  const double period = 30;
  const auto seen = looks_at(
      [&](double t) {
        return 0.05 + 0.002 * std::sin(2 * std::numbers::pi * t / period) + 1e-4 * draw();
      },
      1200, 1, channel::o2);
  EXPECT_TRUE(always(judgement::steady, seen, 600));
  ASSERT_TRUE(seen.back().is.period);
  EXPECT_NEAR(*seen.back().is.period, period, 0.1 * period);
  EXPECT_NEAR(seen.back().is.amplitude, 0.002, 0.0005);
}

TEST(steadiness, does_not_excuse_a_climb_that_swings) {
  noise draw{7};
  const auto seen = looks_at(
      [&](double t) {
        return 0.05 + 0.004 / 60 * t + 0.002 * std::sin(2 * std::numbers::pi * t / 30) +
               1e-4 * draw();
      },
      900, 1, channel::o2);
  EXPECT_FALSE(ever(judgement::steady, seen)) << "four times the limit in the mean";
}

TEST(steadiness, depends_little_on_how_often_the_instrument_speaks) {
  std::vector<double> claims;
  for (const double every : {0.01, 0.1, 1.0, 5.0}) {
    noise draw{8};
    for (const auto& x : looks_at(
             [&](double t) { return 520 - 150 * std::exp(-t / 90) + 0.1 * draw(); }, 1200, every)) {
      if (x.is.is != judgement::steady) continue;
      claims.push_back(x.t);
      break;
    }
  }
  ASSERT_EQ(claims.size(), 4U) << "each claims";
  for (const double t : claims) EXPECT_NEAR(t, claims[2], 60);
}

TEST(steadiness, tells_the_rise_still_to_come_of_an_exponential_approach) {
  noise draw{9};
  int told = 0;
  for (const auto& x :
       looks_at([&](double t) { return 520 - 200 * std::exp(-t / 240) + 0.05 * draw(); }, 1200)) {
    if (x.is.is != judgement::steady || !x.is.remaining) continue;
    ++told;
    const double rest = 200 * std::exp(-x.t / 240);
    EXPECT_NEAR(*x.is.remaining, rest, 0.4 * rest + degree_f) << x.t;
  }
  EXPECT_GT(told, 60) << "seconds at least";
}

TEST(steadiness, speaks_of_channels_it_has_heard_and_of_no_other) {
  steadiness<> judge{steadiness_settings{}};
  judge.push(row(0, stack, 500), [](const verdict& v) {
    EXPECT_TRUE(v.trends.has(stack));
    EXPECT_FALSE(v.trends.has(channel::co));
  });
  judge.push(row(1, channel::co, 20e-6), [](const verdict& v) {
    EXPECT_TRUE(v.trends.has(stack)) << "silent in this row, yet known";
    EXPECT_TRUE(v.trends.has(channel::co));
    EXPECT_EQ(v.row.at, at(1)) << "the row comes along";
  });
}

TEST(steadiness, does_not_learn_from_marked_values) {
  noise a{10}, b{10};
  steadiness<> spiked{steadiness_settings{}}, clean{steadiness_settings{}};
  for (int t = 0; t < 300; ++t) {
    frame f = row(t, stack, 520 + 0.3 * a());
    frame g = row(t, stack, 520 + 0.3 * b());
    if (t % 50 == 20) {
      f.indication.set(stack, 3000);
      f.add_mark(stack, quality::implausible);
      g.indication.clear(stack);
    }
    trend_estimate x, y;
    spiked.push(f, [&](const verdict& v) { x = v.trends[stack]; });
    clean.push(g, [&](const verdict& v) { y = v.trends[stack]; });
    EXPECT_EQ(x, y) << t;
  }
}

TEST(steadiness, asks_more_where_strict) {
  const double pace = 1.1 * per_minute(stack_allowance);
  const auto ramp = [&](double t) { return 520 + pace * t; };
  const auto strictly = looks_at(ramp, 900, 1, stack, strict_settings().steadiness);
  EXPECT_FALSE(ever(judgement::steady, strictly));
  const double near = 0.9 * per_minute(stack_allowance);
  int strict = 0, field = 0;
  for (std::uint64_t seed = 1; seed <= 10; ++seed) {
    noise a{seed}, b{seed};
    const auto x = looks_at([&](double t) { return 520 + near * t + 0.5 * a(); }, 240, 1, stack,
                            strict_settings().steadiness);
    const auto y = looks_at([&](double t) { return 520 + near * t + 0.5 * b(); }, 240);
    strict += ever(judgement::steady, x) ? 1 : 0;
    field += ever(judgement::steady, y) ? 1 : 0;
  }
  EXPECT_LE(strict, field);
}

// Law 9.
TEST(steadiness, after_finish_is_as_good_as_new) {
  steadiness<> used{steadiness_settings{}}, fresh{steadiness_settings{}};
  noise draw{11};
  for (int t = 0; t < 500; ++t) used.push(row(t, stack, 400 + t + draw()), any_sink{});
  used.finish(any_sink{});
  for (int t = 0; t < 200; ++t) {
    const frame f = row(t, stack, 520 + 0.3 * draw());
    trend_estimate x, y;
    used.push(f, [&](const verdict& v) { x = v.trends[stack]; });
    fresh.push(f, [&](const verdict& v) { y = v.trends[stack]; });
    EXPECT_EQ(x, y) << t;
  }
}

// Law 4.
TEST(steadiness, shifts_with_its_stamps_to_the_last_bit) {
  steadiness<> early{steadiness_settings{}}, late{steadiness_settings{}};
  noise draw{12};
  const duration by = seconds(1'700'000'007) + duration{13};
  for (int t = 0; t < 400; ++t) {
    frame f = row(t, stack, 520 - 100 / (1 + t / 30.0) + 0.3 * draw());
    trend_estimate x, y;
    early.push(f, [&](const verdict& v) { x = v.trends[stack]; });
    f.at += by;
    late.push(f, [&](const verdict& v) { y = v.trends[stack]; });
    if (x.since) *x.since += by;
    if (x.departed) *x.departed += by;
    EXPECT_EQ(x, y) << t;
  }
}

// On a small machine.
TEST(steadiness, without_the_course_says_what_field_says) {
  using lean = steadiness<256, no_course>;
  static_assert(sizeof(lean) + channel_count * 1500 < sizeof(steadiness<>));
  steadiness<> whole{steadiness_settings{}};
  lean small{steadiness_settings{}};
  noise draw{13};
  std::size_t steady = 0;
  for (int t = 0; t < 400; ++t) {
    const frame f = row(t, stack, 520 - 100 / (1 + t / 30.0) + 0.3 * draw());
    trend_estimate x, y;
    whole.push(f, [&](const verdict& v) { x = v.trends[stack]; });
    small.push(f, [&](const verdict& v) { y = v.trends[stack]; });
    EXPECT_EQ(x, y) << t;
    steady += y.is == judgement::steady ? 1 : 0;
  }
  EXPECT_GT(steady, 50U);
}

}  // namespace
}  // namespace stilling
