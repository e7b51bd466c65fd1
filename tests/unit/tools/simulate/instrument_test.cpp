// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#include "simulate/instrument.hpp"

#include <gtest/gtest.h>

#include <cmath>

namespace stilling::invented {
namespace {

constexpr auto dt = 0.1;

struct step_response : testing::Test {
  step_response() {
    made.delay_s = 5.0;
    made.mixing_s = 0.0;
    made.o2_s = 8.0;
    made.co_s = 20.0;
    made.thermocouple_s = 3.0;
    made.thermocouple_loss = 0.0;
    burnt = dry_products(1.3, 1.80);
    burnt.stack_k = 500.0;
    burnt.co = 100e-6;
  }
  lanes at(double seconds, double dilution = 0.0) const {
    auto analyzer = instrument{made, flue_gas{}, dt};
    for (auto n = 0; n < std::lround(seconds / dt); ++n) analyzer.advance(burnt, dilution, n * dt);
    return analyzer.sensed();
  }
  instrument_make made;
  flue_gas burnt;
};

TEST_F(step_response, gas_waits_for_the_sample_line) {
  EXPECT_DOUBLE_EQ(at(5.0)[oxygen], 100.0 * air_oxygen);
  EXPECT_DOUBLE_EQ(at(5.0)[monoxide], 0.0);
  EXPECT_LT(at(5.2)[oxygen], 100.0 * air_oxygen);
}

TEST_F(step_response, each_sensor_follows_with_its_own_lag) {
  const auto before = 100.0 * air_oxygen, step = 100.0 * burnt.o2 - before;
  const auto reached = 1.0 - std::exp(-1.0);
  EXPECT_NEAR((at(5.0 + 8.0)[oxygen] - before) / step, reached, 1e-9);
  EXPECT_NEAR(at(5.0 + 20.0)[monoxide] / 100.0, reached, 1e-9);
  const auto cold = (293.0 - 273.15) * 1.8 + 32.0, hot = (500.0 - 273.15) * 1.8 + 32.0;
  EXPECT_NEAR((at(3.0)[stack] - cold) / (hot - cold), reached, 1e-9);
}

TEST_F(step_response, a_slipped_probe_draws_room_air) {
  const auto well = at(500.0), slipped = at(500.0, 0.25);
  EXPECT_NEAR(slipped[oxygen], 0.75 * well[oxygen] + 25.0 * air_oxygen, 1e-9);
  EXPECT_NEAR(slipped[monoxide], 0.75 * well[monoxide], 1e-9);
  EXPECT_LT(slipped[stack], well[stack]);
  EXPECT_NEAR(at(500.0, 1.0)[stack], well[ambient], 1e-9);
}

TEST_F(step_response, a_cold_cell_is_off_and_comes_in) {
  made.errors.warm_up[oxygen] = 1.5;
  made.errors.warm_up_s[oxygen] = 100.0;
  EXPECT_NEAR(at(500.0)[oxygen], 100.0 * burnt.o2 + 1.5 * std::exp(-4.999), 1e-6);
}

TEST(noise, has_its_spread_and_its_memory_at_any_spacing) {
  auto made = noise_make{};
  made.correlated[stack] = 2.0;
  made.correlation_s[stack] = 10.0;
  made.white[oxygen] = 0.5;
  auto source = noise{made, 1.0, chance{3, "noise"}};
  auto square = 0.0, product = 0.0, white = 0.0, last = 0.0;
  constexpr auto n = 60000;
  for (auto i = 0; i < n; ++i) {
    const auto shown = source.at(4.0 * i, lanes{});
    square += shown[stack] * shown[stack];
    product += shown[stack] * last;
    last = shown[stack];
    white += shown[oxygen] * shown[oxygen];
  }
  EXPECT_NEAR(std::sqrt(square / n), 2.0, 0.05);
  EXPECT_NEAR(product / square, std::exp(-0.4), 0.02);
  EXPECT_NEAR(std::sqrt(white / n), 0.5, 0.01);
}

}  // namespace
}  // namespace stilling::invented
