// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT

#include "stilling/stages/screen.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <limits>
#include <type_traits>
#include <vector>

#include "support/flue.hpp"

namespace stilling {
namespace {

using invented::noise;
using invented::percent;
using invented::ppm;
using invented::row;

static_assert(std::is_trivially_copyable_v<screen>);
static_assert(accepts<screen, frame> && !accepts<screen, discontinuity>);
static_assert(std::same_as<screen::emits, items<frame>>, "marked, never removed, never added");

constexpr auto stack = channel::stack_temp;

/// What becomes of a channel's values, one a second; `written`: one unit of the last written place.
std::vector<quality> marks_of(const std::vector<double>& values, channel c = stack,
                              double written = 0, const screen_settings& s = {}) {
  std::vector<quality> marks;
  screen judge{s};
  double t = 0;
  for (const double x : values) {
    frame f = row(t++, c, x);
    f.written_step[index_of(c)] = written;
    judge.push(frame{f}, [&](const frame& out) { marks.push_back(out.mark(c)); });
  }
  return marks;
}
std::size_t count(const std::vector<quality>& marks, quality q) {
  std::size_t n = 0;
  for (const auto m : marks) n += has(m, q) ? 1U : 0U;
  return n;
}
std::vector<double> noisy(std::size_t n, double level, double sd, std::uint64_t seed = 1) {
  noise draw{seed};
  std::vector<double> values(n);
  for (auto& x : values) x = level + sd * draw();
  return values;
}
double fahrenheit(double f) { return (f + 459.67) / 1.8; }

TEST(screen, hands_every_frame_on_with_every_value_as_it_came) {
  screen judge{screen_settings{}};
  for (const double x : {500.0, 501.0, 5000.0, -7.0, 500.0}) {
    frame in = row(x, stack, x);
    in.line = 12;
    in.indication.set(channel::o2, 0.05);
    in.add_mark(channel::co, quality::over_range);
    int heard = 0;
    judge.push(frame{in}, [&](frame out) {
      ++heard;
      EXPECT_TRUE(has(out.mark(channel::co), quality::over_range)) << "said by the instrument";
      out.marks = in.marks;
      EXPECT_EQ(out, in);
    });
    EXPECT_EQ(heard, 1);
  }
}

TEST(screen, believes_no_flue_colder_than_winter_or_hotter_than_a_flame) {
  const auto marks = marks_of({fahrenheit(32767), fahrenheit(-242), fahrenheit(-459.7),
                               fahrenheit(65535), 0, 415});
  for (std::size_t i = 0; i < 5; ++i) EXPECT_TRUE(has(marks[i], quality::implausible)) << i;
  EXPECT_EQ(marks[5], quality::good);
}

TEST(screen, takes_no_number_and_no_infinity_for_a_value) {
  constexpr double infinite = std::numeric_limits<double>::infinity();
  constexpr double not_a_number = std::numeric_limits<double>::quiet_NaN();
  auto values = noisy(30, 500, 0.3);
  values[15] = not_a_number, values[16] = infinite, values[17] = -infinite;
  const auto marks = marks_of(values);
  EXPECT_EQ(count(marks, quality::implausible), 3U);
  EXPECT_EQ(marks[18], quality::good) << "and they leave no trace";
}

TEST(screen, knows_each_channel_by_its_own_range) {
  EXPECT_EQ(count(marks_of({0.209}, channel::o2), quality::implausible), 0U);
  EXPECT_EQ(count(marks_of({0.30}, channel::o2), quality::implausible), 1U);
  EXPECT_EQ(count(marks_of({3853 * ppm}, channel::co), quality::implausible), 0U);
  EXPECT_EQ(count(marks_of({-12 * ppm}, channel::co), quality::implausible), 0U)
      << "zeroed in dirty air: to be told, not hidden";
}

TEST(screen, marks_a_lone_spike_and_two_together) {
  auto values = noisy(60, 491, 0.3);
  values[20] = 540;
  values[40] = 466, values[41] = 467;
  const auto marks = marks_of(values);
  EXPECT_EQ(count(marks, quality::outlier), 3U);
  for (const std::size_t i : {20U, 40U, 41U}) EXPECT_TRUE(has(marks[i], quality::outlier)) << i;
}

TEST(screen, marks_a_spike_among_values_that_stand_still) {
  std::vector<double> values(40, 294.26);
  values[25] = 310;
  const auto marks = marks_of(values, channel::ambient_temp);
  EXPECT_TRUE(has(marks[25], quality::outlier));
  EXPECT_EQ(count(marks, quality::outlier), 1U);
}

TEST(screen, seldom_calls_plain_noise_an_outlier) {
  EXPECT_LT(count(marks_of(noisy(5000, 500, 1)), quality::outlier), 5000U / 20);
  EXPECT_LT(count(marks_of(noisy(5000, 500, 5)), quality::outlier), 5000U / 20);
}

TEST(screen, lets_a_coarse_display_step) {
  std::vector<double> values;
  for (int i = 0; i < 60; ++i) values.push_back(fahrenheit(i < 30 ? 430 : i % 2 == 0 ? 431 : 430));
  EXPECT_EQ(count(marks_of(values), quality::outlier), 0U);
  EXPECT_EQ(count(marks_of({0.05, 0.05, 0.05, 0.05, 0.05, 0.05, 0.051, 0.052, 0.051}, channel::o2,
                           0.001),
                  quality::outlier),
            0U);
}

TEST(screen, lets_a_warming_flue_climb) {
  std::vector<double> values;
  double x = 300;
  for (int i = 0; i < 300; ++i) values.push_back(x += (560 - x) / 60);
  EXPECT_LT(count(marks_of(values), quality::outlier), 5U);
}

TEST(screen, takes_a_new_level_for_what_it_is_within_its_history) {
  auto values = noisy(40, 500, 0.3);
  const auto high = noisy(40, 540, 0.3);
  values.insert(values.end(), high.begin(), high.end());
  const auto marks = marks_of(values);
  EXPECT_TRUE(has(marks[40], quality::outlier)) << "nobody can know at the first row";
  for (std::size_t i = 40 + screen_settings{}.history; i < 80; ++i)
    EXPECT_EQ(marks[i], quality::good) << i;
}

TEST(screen, keeps_silent_about_the_first_rows) {
  EXPECT_EQ(count(marks_of({300, 340, 380, 420}), quality::outlier), 0U);
}

TEST(screen, sees_a_frozen_channel_by_its_own_earlier_noise) {
  auto values = noisy(60, 480, 0.3);
  for (auto& x : values) x = fahrenheit(std::round((x * 1.8 - 459.67) * 10) / 10);
  values.resize(180, values.back());
  const auto marks = marks_of(values);
  std::size_t first = 0;
  while (first < marks.size() && !has(marks[first], quality::stuck)) ++first;
  EXPECT_GE(first, 60U) << "not while it lives";
  EXPECT_LE(first, 60U + 60U) << "within a minute";
  for (std::size_t i = first; i < marks.size(); ++i)
    EXPECT_TRUE(has(marks[i], quality::stuck)) << "and as long as it lasts";
}

TEST(screen, believes_a_channel_again_once_it_moves) {
  auto values = noisy(60, 480, 0.3);
  values.resize(180, values.back());
  const auto more = noisy(20, 480, 0.3, 2);
  values.insert(values.end(), more.begin(), more.end());
  const auto marks = marks_of(values);
  ASSERT_TRUE(has(marks[179], quality::stuck));
  for (std::size_t i = 180; i < 200; ++i) EXPECT_FALSE(has(marks[i], quality::stuck));
}

TEST(screen, never_calls_a_channel_stuck_that_was_always_quiet) {
  EXPECT_EQ(count(marks_of(std::vector<double>(3600, 0.05), channel::o2), quality::stuck), 0U);
  std::vector<double> edge(600, fahrenheit(430));  // to and fro over one step, then quiet
  for (std::size_t i = 0; i < 200; i += 2) edge[i] = fahrenheit(431);
  EXPECT_EQ(count(marks_of(edge), quality::stuck), 0U);
}

TEST(screen, does_not_take_the_way_back_from_an_outlier_for_dither) {
  std::vector<double> values(1200, 0.05);  // a coarse display, spikes one and the other way
  for (std::size_t i = 40; i < 640; i += 40) values[i] += i % 80 == 0 ? 0.03 : -0.03;
  EXPECT_EQ(count(marks_of(values, channel::o2, 0.001), quality::stuck), 0U);
}

TEST(screen, does_not_expect_again_what_happened_twice) {
  std::vector<double> values(1200, 0.05);
  values[100] = 0.0504, values[101] = 0.0496;  // turns back twice
  EXPECT_EQ(count(marks_of(values, channel::o2, 0.0002), quality::stuck), 0U);
  for (std::size_t i = 200; i < 300; i += 5) values[i] = 0.0504, values[i + 1] = 0.0496;
  EXPECT_GT(count(marks_of(values, channel::o2, 0.0002), quality::stuck), 0U) << "but twenty times";
}

TEST(screen, does_not_take_a_new_quiet_level_for_a_frozen_one) {
  auto values = noisy(60, 0.209, 0.002);
  for (auto& x : values) x = std::round(x * 1000) / 1000;
  values.resize(400, 0.05);
  EXPECT_EQ(count(marks_of(values, channel::o2), quality::stuck), 0U);
}

TEST(screen, treats_channels_apart) {
  screen judge{screen_settings{}};
  noise draw{3};
  for (int i = 0; i < 100; ++i) {
    frame f = row(i, stack, 500 + 0.3 * draw());
    f.indication.set(channel::o2, i == 50 ? 0.15 : 0.05);
    judge.push(frame{f}, [&](const frame& out) {
      EXPECT_EQ(out.mark(stack), quality::good);
      EXPECT_EQ(has(out.mark(channel::o2), quality::outlier), i == 50);
    });
  }
}

TEST(screen, says_nothing_about_a_lane_that_is_not_there) {
  screen judge{screen_settings{}};
  for (int i = 0; i < 50; ++i)
    judge.push(row(i, stack, 500), [](const frame& out) {
      EXPECT_FALSE(out.indication.has(channel::o2));
      EXPECT_EQ(out.mark(channel::o2), quality::good);
    });
}

TEST(screen, obeys_its_settings) {
  auto values = noisy(200, 500, 1);
  values[100] = 508;
  EXPECT_TRUE(has(marks_of(values)[100], quality::outlier));
  EXPECT_EQ(count(marks_of(values, stack, 0, {.outlier_factor = 50}), quality::outlier), 0U);
}

// Law 9.
TEST(screen, after_finish_is_as_good_as_new) {
  screen used{screen_settings{}}, fresh{screen_settings{}};
  for (int i = 0; i < 50; ++i) used.push(row(i, stack, 300 + i), any_sink{});
  used.finish(any_sink{});
  noise draw{5};
  for (int i = 0; i < 80; ++i) {
    const frame in = row(i, stack, i == 40 ? 900 : 500 + draw());
    frame a, b;
    used.push(frame{in}, [&](const frame& out) { a = out; });
    fresh.push(frame{in}, [&](const frame& out) { b = out; });
    EXPECT_EQ(a, b);
  }
}

}  // namespace
}  // namespace stilling
