// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT

#include "stilling/estimators/rhythm.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <numbers>
#include <type_traits>

#include "support/flue.hpp"

namespace stilling {
namespace {

using invented::at;
using invented::noise;

static_assert(std::is_trivially_copyable_v<rhythm>);
static_assert(!rhythm{}.period() && rhythm{}.amplitude() == 0 && rhythm{}.noise() == 0);

constexpr double turn = 2 * std::numbers::pi;

/// x(t) every `every` seconds for `lasting` seconds.
template <class F> rhythm heard(F x, double lasting, double every = 1, double step = 0) {
  rhythm r;
  for (double t = 0; t < lasting; t += every) r.update(at(t), x(t), step);
  return r;
}

struct swing {
  double period, amplitude, noise, every;
};
class a_swing : public testing::TestWithParam<swing> {};

TEST_P(a_swing, is_told_with_its_period_and_amplitude) {
  const swing s = GetParam();
  noise draw{4};
  const auto x = [&](double t) {
    return 500 + s.amplitude * std::sin(turn * t / s.period) + s.noise * draw();
  };
  const auto r = heard(x, 8 * s.period, s.every);
  ASSERT_TRUE(r.period()) << "after eight periods";
  EXPECT_NEAR(*r.period(), s.period, 0.1 * s.period);
  EXPECT_NEAR(r.amplitude(), s.amplitude, 0.25 * s.amplitude);
}
INSTANTIATE_TEST_SUITE_P(of, a_swing,
                         testing::Values(swing{20, 2, 0, 1}, swing{20, 2, 0.2, 1},
                                         swing{45, 3, 0.3, 1}, swing{45, 3, 0.3, 2},
                                         swing{90, 5, 0.5, 5}, swing{120, 2, 0.2, 1}));

TEST(rhythm, is_not_found_before_it_has_repeated) {
  const auto x = [](double t) { return 2 * std::sin(turn * t / 40); };
  EXPECT_FALSE(heard(x, 60).period()) << "one period and a half";
  EXPECT_TRUE(heard(x, 240).period());
}

TEST(rhythm, is_over_when_the_swing_stops) {
  const auto x = [](double t) { return t < 300 ? 2 * std::sin(turn * t / 30) : 0; };
  EXPECT_TRUE(heard(x, 300).period());
  EXPECT_FALSE(heard(x, 390).period()) << "three periods of rest";
  EXPECT_EQ(heard(x, 390).amplitude(), 0);
}

TEST(rhythm, is_not_in_what_merely_moves) {
  EXPECT_FALSE(heard([](double t) { return 0.2 * t; }, 600).period()) << "a ramp";
  EXPECT_FALSE(heard([](double t) { return 200 / (1 + t / 60); }, 600).period()) << "an approach";
  EXPECT_FALSE(heard([](double t) { return t < 300 ? 0.0 : 5.0; }, 600).period()) << "a step";
  EXPECT_FALSE(heard([](double) { return 5.0; }, 600).period()) << "rest";
}

TEST(rhythm, is_seldom_seen_in_noise) {
  int looks = 0, found = 0;
  for (std::uint64_t seed = 1; seed <= 40; ++seed) {
    noise draw{seed};
    rhythm r;
    for (int t = 0; t < 600; ++t) {
      r.update(at(t), draw(), 0);
      ++looks;
      if (r.period()) ++found;
    }
  }
  EXPECT_LT(found, looks / 10) << "and what it is taken for has to be larger than the noise too";
}

TEST(rhythm, is_not_the_flicker_of_a_display_between_two_steps) {
  noise draw{8};
  const auto r = heard([&](double) { return std::round(0.5 + 0.1 * draw()); }, 900, 1, 1);
  EXPECT_FALSE(r.period());
}

TEST(rhythm, knows_fast_noise_from_a_slow_swing) {
  noise draw{6};
  const auto r =
      heard([&](double t) { return 10 * std::sin(turn * t / 100) + 0.5 * draw(); }, 600);
  EXPECT_NEAR(r.noise(), 0.5, 0.1);
}

TEST(rhythm, forgets_when_told) {
  auto r = heard([](double t) { return std::sin(turn * t / 30); }, 300);
  ASSERT_TRUE(r.period());
  r.clear();
  EXPECT_FALSE(r.period());
  EXPECT_EQ(r.noise(), 0);
}

/// Share of the rows after the fourth period at which a swing of `amplitude` is heard, over many
/// draws of a noise of 0.1: in the values and in the means.
struct heard_share {
  double quick = 0, slow = 0;
};
heard_share share_heard(double amplitude, double period) {
  heard_share out;
  double rows = 0;
  for (std::uint64_t seed = 1; seed <= 40; ++seed) {
    rhythms both;
    noise draw{seed};
    for (int t = 0; t < 700; ++t) {
      both.update(at(t), amplitude * std::sin(turn * t / period) + 0.1 * draw(), 0);
      if (t < 4 * period) continue;
      rows += 1;
      out.quick += both.quick() ? 1 : 0;
      if (const auto p = both.slow(); p && std::abs(*p - period) < 0.15 * period) out.slow += 1;
    }
  }
  return {out.quick / rows, out.slow / rows};
}

TEST(rhythms, hear_a_slow_swing_under_its_noise) {
  const auto slow = share_heard(0.4, 90);
  EXPECT_LT(slow.quick, 0.5) << "3.5 standard deviations are much of the swing";
  EXPECT_GT(slow.slow, 0.85);
}

TEST(rhythms, hear_hardly_a_swing_in_noise_alone) {
  double rows = 0, heard = 0;
  for (std::uint64_t seed = 1; seed <= 40; ++seed) {
    rhythms both;
    noise draw{seed};
    for (int t = 0; t < 400; ++t) {
      both.update(at(t), 0.1 * draw(), 0);
      rows += 1;
      heard += both.quick() || both.slow() ? 1 : 0;
    }
  }
  EXPECT_LT(heard / rows, 0.1);
}

}  // namespace
}  // namespace stilling
