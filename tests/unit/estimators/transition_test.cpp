// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT

#include "stilling/estimators/transition.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <type_traits>
#include <vector>

#include "support/flue.hpp"

namespace stilling {
namespace {

using invented::at;
using invented::when;

static_assert(std::is_trivially_copyable_v<transition>);
static_assert(sizeof(transition) <= 320);

/// A step of `size` at 100 s, `dead` s late, through a first-order lag of `tau` s; its level is
/// known before 100 s and again from 12 time constants after it.
struct response {
  double dead = 0, tau = 0, size = 30, every = 1, noise = 0;

  [[nodiscard]] double operator()(double t) const {
    const double u = t - 100 - dead;
    return 400 + (u < 0 ? 0 : size * (tau > 0 ? 1 - std::exp(-u / tau) : 1));
  }
  [[nodiscard]] transition followed(double to = 1200, std::uint64_t seed = 1) const {
    transition all;
    invented::noise draw{seed};
    const double density = noise * noise * every;
    for (double t = 0; t < to; t += every) {
      std::optional<standing> level;
      if (t <= 100 + dead) level = standing{400, noise, density, 0};
      if (t > 100 + dead + 12 * tau + every) level = standing{400 + size, noise, density, 0};
      all.update(at(t), (*this)(t) + noise * draw(), level);
    }
    return all;
  }
};

// The first moment of the response to a step is dead time plus time constant (any text on process
// dynamics; here in closed form: the integral of e^(-t/tau) is tau).
TEST(transition, is_centred_at_dead_time_plus_time_constant) {
  for (const double dead : {0.0, 20.0, 60.0}) {
    for (const double tau : {0.0, 10.0, 40.0}) {
      for (const double size : {30.0, -30.0}) {
        const auto p = response{dead, tau, size}.followed().newest();
        ASSERT_TRUE(p) << dead << ' ' << tau;
        EXPECT_NEAR(when(p->centre), 100 + dead + tau, 0.7) << "half a row and e^-12";
        EXPECT_NEAR(when(p->left), 100 + dead, 1.1);
        EXPECT_EQ(when(p->stood), 0);
      }
    }
  }
}

TEST(transition, knows_how_uncertain_its_centre_is) {
  double squares = 0, said = 0;
  constexpr int runs = 200;
  for (int i = 0; i < runs; ++i) {
    const auto p = response{20, 20, 10, 2, 0.5}.followed(500, static_cast<std::uint64_t>(i) + 1);
    ASSERT_TRUE(p.newest());
    squares += std::pow(when(p.newest()->centre) - 140, 2) / runs;
    said += p.newest()->uncertainty / runs;
  }
  EXPECT_GT(said, 0.7 * std::sqrt(squares));
  EXPECT_LT(said, 2.5 * std::sqrt(squares)) << "levels are known here better than it can know";
}

TEST(transition, is_none_before_it_has_arrived) {
  EXPECT_FALSE((response{0, 40}.followed(400).newest()));
  EXPECT_TRUE((response{0, 40}.followed(400).moves()));
  EXPECT_TRUE((response{0, 40}.followed(600).newest()));
  EXPECT_FALSE((response{0, 40}.followed(600).moves()));
}

TEST(transition, is_none_where_no_level_was_seen_before) {
  transition all;
  for (int t = 0; t < 300; ++t)
    all.update(at(t), 400 + std::min(t, 100) * 0.3,
               t > 110 ? std::optional{standing{430, 0, 0, 0}} : std::nullopt);
  EXPECT_FALSE(all.newest());
  EXPECT_FALSE(all.left());
}

TEST(transition, is_none_where_it_turned_back) {
  transition all;
  for (int t = 0; t < 400; ++t) {
    const bool away = t > 100 && t < 200;
    all.update(at(t), away ? 500 : t < 150 ? 400 : 410,
               away ? std::nullopt : std::optional{standing{t < 150 ? 400.0 : 410.0, 0, 0, 0}});
  }
  EXPECT_FALSE(all.newest()) << "a spike, and a little left of it";
  EXPECT_TRUE(all.left());
}

TEST(transition, forgets_all_over_a_silence) {
  auto all = response{0, 10}.followed(90);
  all.update(at(300), 430, std::nullopt);
  EXPECT_FALSE(all.left()) << "nobody knows when it left";
}

passage of(double stood, double left, double centre, double u = 1) {
  return {at(stood), at(left), at(centre), u};
}

TEST(lag_behind, is_the_distance_of_the_centres) {
  EXPECT_EQ(lag_behind(of(0, 100, 130), of(0, 160, 200)), 70);
}

TEST(lag_behind, is_unknown_where_one_cause_is_not_shown) {
  EXPECT_FALSE(lag_behind(of(0, 100, 130), of(0, 60, 200))) << "it left before";
  EXPECT_FALSE(lag_behind(of(0, 100, 130), of(0, 300, 310))) << "it left long after";
  EXPECT_FALSE(lag_behind(of(0, 100, 130), of(120, 160, 200))) << "it moved when the leader left";
  EXPECT_FALSE(lag_behind(of(0, 100, 180), of(0, 110, 150))) << "it was faster";
  EXPECT_FALSE(lag_behind(of(0, 100, 130), of(0, 110, 133, 2))) << "nor is it clearly slower";
  EXPECT_FALSE(lag_behind(of(0, 100, 130), of(0, 160, 200, 7))) << "too uncertain";
}

}  // namespace
}  // namespace stilling
