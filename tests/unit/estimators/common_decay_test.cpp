// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT

#include "stilling/estimators/common_decay.hpp"

#include <gtest/gtest.h>

#include <array>
#include <cmath>
#include <functional>
#include <type_traits>

#include "support/flue.hpp"

namespace stilling {
namespace {

using invented::at;
using invented::noise;

static_assert(std::is_trivially_copyable_v<common_decay<3>>);
static_assert(!common_decay<3>{}.decay_of(0), "nothing was seen");

using curves = std::array<std::function<double(double)>, 3>;

std::function<double(double)> towards(double level, double size, double tau) {
  return [=](double t) { return level + size * std::exp(-t / tau); };
}

/// A row every `every` seconds up to `to`, each series with noise of its own.
common_decay<3> seen(const curves& of, double to, double every = 2, double sd = 0) {
  common_decay<3> all;
  std::array<noise, 3> draws{noise{1}, noise{2}, noise{3}};
  for (double t = 0; t <= to; t += every) {
    std::array<double, 3> now{};
    for (std::size_t i = 0; i < 3; ++i) now[i] = of[i](t) + sd * draws[i]();
    all.update(at(1.7e9 + t), [&](std::size_t i) { return std::optional{now[i]}; });
  }
  return all;
}

// y = level + size e^(-t/tau): all is known exactly.
TEST(common_decay, finds_time_constant_and_rest_whatever_level_size_and_sign) {
  for (const double tau : {40.0, 63.0, 90.0, 150.0, 300.0}) {
    const curves all{towards(70, -8, tau), towards(400, -24, tau), towards(5, 0.8, tau)};
    for (const double until : {1.0, 2.0, 3.0}) {
      const auto d = seen(all, until * tau).decay_of(0);
      ASSERT_TRUE(d) << tau << " after " << until;
      EXPECT_EQ(d->with, 2U);
      EXPECT_NEAR(d->time_constant, tau, 0.05 * tau);
      EXPECT_NEAR(d->remaining, 8 * std::exp(-until), 0.08 * 8 * std::exp(-until));
    }
  }
}

TEST(common_decay, is_found_in_noise_once_it_stands_out) {
  const curves all{towards(70, -8, 90), towards(400, -10, 90), towards(5, 9, 90)};
  EXPECT_FALSE(seen(all, 20, 1, 0.7).decay_of(0)) << "too early to tell a curve from a line";
  const auto d = seen(all, 200, 1, 0.7).decay_of(0);
  ASSERT_TRUE(d);
  EXPECT_EQ(d->with, 2U);
  EXPECT_NEAR(d->remaining, 8 * std::exp(-200.0 / 90), 0.45) << "three of its deviations";
}

TEST(common_decay, of_another_pace_is_not_in_step) {
  const curves all{towards(70, -8, 90), towards(400, -24, 45), towards(5, 0.8, 300)};
  const auto d = seen(all, 250).decay_of(0);
  ASSERT_TRUE(d) << "it decays by itself";
  EXPECT_EQ(d->with, 0U);
}

TEST(common_decay, is_no_straight_line_and_no_standstill) {
  const auto ramp = [](double t) { return 70 + 0.02 * t; };
  const auto still = [](double) { return 70.0; };
  const auto fast = towards(400, -24, 90);
  for (const double sd : {0.0, 0.3}) {
    EXPECT_FALSE(seen({ramp, ramp, ramp}, 600, 2, sd).decay_of(0));
    EXPECT_FALSE(seen({still, fast, fast}, 600, 2, sd).decay_of(0));
    EXPECT_FALSE(seen({ramp, fast, fast}, 600, 2, sd).decay_of(0));
  }
}

TEST(common_decay, is_no_step_in_the_middle) {
  const auto step = [](double t) { return t < 60 ? 294.0 : 520.0; };
  const curves all{step, step, step};
  for (const double until : {80.0, 100.0, 120.0, 200.0, 400.0})
    EXPECT_FALSE(seen(all, until).decay_of(0)) << until;
}

TEST(common_decay, leaves_out_what_was_not_heard) {
  common_decay<3> all;
  const auto curve = towards(70, -8, 90);
  for (int t = 0; t < 200; t += 2)
    all.update(at(t), [&](std::size_t i) -> std::optional<double> {
      if (i == 2 || (i == 1 && t % 3 == 0)) return std::nullopt;
      return curve(t);
    });
  const auto d = all.decay_of(0);
  ASSERT_TRUE(d);
  EXPECT_EQ(d->with, 1U);
  EXPECT_FALSE(all.decay_of(2));
}

TEST(common_decay, hears_one_row_a_second) {
  const auto curve = towards(70, -8, 90);
  common_decay<3> often, once;
  for (int i = 0; i < 2000; ++i) {
    const auto value = [&](std::size_t) { return std::optional{curve(i / 10.0)}; };
    often.update(at(i / 10.0), value);
    if (i % 10 == 0) once.update(at(i / 10.0), value);
  }
  ASSERT_TRUE(once.decay_of(0));
  EXPECT_EQ(often.decay_of(0)->remaining, once.decay_of(0)->remaining);
}

}  // namespace
}  // namespace stilling
