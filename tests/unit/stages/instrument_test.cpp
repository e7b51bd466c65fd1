// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT

#include "stilling/stages/instrument.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <functional>
#include <optional>
#include <type_traits>
#include <vector>

#include "support/flue.hpp"

namespace stilling {
namespace {

using invented::at;
using invented::degree_f;
using invented::flue;
using invented::percent;
using invented::ppm;
using invented::row;
using invented::when;

static_assert(std::is_trivially_copyable_v<instrument>);
static_assert(std::same_as<instrument::emits, items<frame>>, "never removed, never added");

/// Of a course: where the instrument was said to warm up, and how much was left then.
struct heard {
  std::optional<double> from, to;
  std::vector<double> left;
};

using course = std::function<flue(double)>;

heard run(const course& of, double until = 900, double every = 2) {
  instrument stage;
  heard out;
  for (double t = 0; t <= until; t += every) {
    const frame in = row(t, of(t));
    stage.push(frame{in}, [&](const frame& f) {
      EXPECT_EQ(f.indication, in.indication);
      EXPECT_EQ(f.marks, in.marks);
      if (!f.warming) return;
      if (!out.from) out.from = when(f.at);
      out.to = when(f.at);
      out.left.push_back(*f.warming);
    });
  }
  return out;
}

/// What a cold instrument adds, K: 8 degF in the room's channel at first.
double cold(double t, double tau = 90) { return -8 * degree_f * std::exp(-t / tau); }

flue all_cold(double t, double tau = 90) {
  const double e = cold(t, tau);
  return {480 + 3 * e, 294 + e, 0.05 - 0.1 * percent * e, 20 * ppm - 2 * ppm * e};
}

// 8 e^(-t/90) degF falls below 0.5 at 249.5 s.
TEST(instrument, warms_up_where_all_drift_with_one_time_constant) {
  const auto got = run([](double t) { return all_cold(t); });
  ASSERT_TRUE(got.from);
  EXPECT_LE(*got.from, 90) << "long before any channel has come to rest";
  EXPECT_NEAR(*got.to, 249.5, 15);
  for (std::size_t i = 1; i < got.left.size(); ++i) EXPECT_GT(got.left[i], 0.5 * degree_f);
}

TEST(instrument, stays_cold_though_a_fire_then_moves_the_others) {
  const auto got = run([](double t) {
    flue f = all_cold(t);
    if (t < 120) {
      f.stack = 294 + 2 * cold(t), f.oxygen += 0.159, f.monoxide -= 20 * ppm;
    } else {
      f.stack -= 186 * std::exp(-(t - 120) / 40), f.oxygen += 0.159 * std::exp(-(t - 120) / 8);
    }
    return f;
  });
  ASSERT_TRUE(got.from);
  EXPECT_LT(*got.from, 120);
  EXPECT_NEAR(*got.to, 249.5, 25);
}

TEST(instrument, is_warm_where_only_the_rooms_channel_moves) {
  EXPECT_FALSE(run([](double t) { return flue{.ambient = 294 + cold(t)}; }).from);
  EXPECT_FALSE(run([](double t) { return flue{.ambient = 294 + 1.2 * degree_f * t / 60}; }).from);
}

TEST(instrument, is_warm_where_the_room_warms_and_the_stack_moves_for_its_own_reasons) {
  for (const double rate : {0.3, 1.0, 3.0}) {
    const auto got = run([rate](double t) {
      return flue{480 - 150 * std::exp(-t / 90), 290 + rate * degree_f * t / 60,
                  0.05 + 0.1 * std::exp(-t / 90), 20 * ppm + 100 * ppm * std::exp(-t / 90)};
    });
    EXPECT_FALSE(got.from) << rate;
  }
}

TEST(instrument, is_warm_while_an_appliance_warms_up_in_a_constant_room) {
  const auto got = run([](double t) {
    return flue{480 - 186 * std::exp(-t / 90), 294, 0.05 + 0.02 * std::exp(-t / 90), 20 * ppm};
  });
  EXPECT_FALSE(got.from);
}

TEST(instrument, is_warm_where_a_room_recovers_at_another_pace_than_the_stack) {
  const auto got = run([](double t) {
    return flue{480 - 150 * std::exp(-t / 60), 294 + cold(t, 300),
                0.05 + 0.1 * std::exp(-t / 15), 20 * ppm};
  });
  EXPECT_FALSE(got.from);
}

TEST(instrument, is_told_within_ten_minutes_or_not_at_all) {
  const auto got = run([](double t) { return t < 700 ? flue{} : all_cold(t - 700); }, 1600);
  EXPECT_FALSE(got.from);
}

TEST(instrument, begins_again_after_a_break) {
  instrument stage;
  std::optional<double> last;
  const auto hear = [&](const frame& f) {
    if (f.warming) last = when(f.at);
  };
  for (double t = 0; t < 900; t += 2) stage.push(row(t, flue{}), hear);
  EXPECT_FALSE(last);
  stage.finish(hear);
  for (double t = 0; t < 900; t += 2) stage.push(row(1000 + t, all_cold(t)), hear);
  ASSERT_TRUE(last);
  EXPECT_NEAR(*last, 1249.5, 15);
}

}  // namespace
}  // namespace stilling
