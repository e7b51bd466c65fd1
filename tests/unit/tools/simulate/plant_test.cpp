// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#include "simulate/plant.hpp"

#include <gtest/gtest.h>

namespace stilling::invented {
namespace {

constexpr auto dt = 0.1;

controls firing() {
  auto now = controls{};
  now.firing = true;
  return now;
}

flue_gas after(const appliance& made, const controls& now, double seconds) {
  auto burner = plant{made, now.ambient_k, 0.0, dt};
  for (auto t = 0.0; t < seconds; t += dt) burner.advance(now);
  return burner.gas();
}

TEST(dry_products, have_the_carbon_dioxide_of_the_fuel) {
  // CH1.80: 15.450 % without excess air, recomputed from the composition in 40 CFR 1065.655 Table 1
  EXPECT_NEAR(100.0 * dry_products(1.0, 1.80).co2, 15.450, 0.005);
  EXPECT_EQ(dry_products(1.0, 1.80).o2, 0.0);
  EXPECT_NEAR(dry_products(1e6, 1.80).o2, air_oxygen, 1e-6);
  for (auto ratio = 1.0; ratio < 2.0; ratio += 0.1) {
    const auto gas = dry_products(ratio, 1.80);
    // 40 CFR 75 App. F, oil: CO2 = 15.4516 (20.9 - O2)/20.9
    EXPECT_NEAR(100.0 * gas.co2, 15.4516 * (20.9 - 100.0 * gas.o2) / 20.9, 0.05) << ratio;
  }
}

TEST(plant, reaches_a_steady_value_and_stays) {
  const auto early = after({}, firing(), 20000.0), late = after({}, firing(), 30000.0);
  EXPECT_NEAR(early.stack_k, late.stack_k, 1e-4);
  EXPECT_NEAR(early.co, late.co, 1e-12);
  EXPECT_GT(late.stack_k, 420.0);
  EXPECT_LT(late.stack_k, 700.0);
}

TEST(plant, burns_with_the_air_it_gets) {
  auto made = appliance{};
  made.draft_on_air = 0.0;
  auto now = firing();
  now.ambient_k = 293.15;
  EXPECT_NEAR(after(made, now, 2000.0).o2, dry_products(made.air_ratio, 1.80).o2, 1e-9);
  now.air_change = 0.10;
  EXPECT_NEAR(after(made, now, 2000.0).o2, dry_products(1.1 * made.air_ratio, 1.80).o2, 1e-9);
}

TEST(plant, stack_rises_with_excess_air_and_with_fire) {
  auto leaner = firing(), low = firing();
  leaner.air_change = 0.15;
  low.fire = 0.65;
  const auto usual = after({}, firing(), 8000.0).stack_k;
  EXPECT_GT(after({}, leaner, 8000.0).stack_k, usual + 3.0);
  EXPECT_LT(after({}, low, 8000.0).stack_k, usual - 20.0);
}

TEST(plant, monoxide_is_least_between_too_little_and_too_much_air) {
  const auto with = [](double change) {
    auto now = firing();
    now.air_change = change;
    return after({}, now, 4000.0).co;
  };
  EXPECT_GT(with(-0.16), 3.0 * with(0.05));
  EXPECT_GT(with(0.45), 3.0 * with(0.05));
}

TEST(plant, ignition_and_cold_chamber_make_monoxide) {
  const auto steady = after({}, firing(), 4000.0).co;
  EXPECT_GT(after({}, firing(), 5.0).co, 3.0 * steady);
  EXPECT_GT(after({}, firing(), 60.0).co, 1.3 * steady);
}

TEST(plant, chimney_pulls_when_hot_and_the_regulator_holds_it) {
  auto made = appliance{};
  EXPECT_NEAR(after(made, controls{}, 100.0).breech_pa, 0.0, 0.2);
  const auto held = -after(made, firing(), 8000.0).breech_pa;
  made.regulator_pa = 1000.0;
  const auto unheld = -after(made, firing(), 8000.0).breech_pa;
  EXPECT_GT(unheld, held + 3.0);
  EXPECT_GT(held, appliance{}.regulator_pa);
  EXPECT_LT(held, appliance{}.regulator_pa + 3.0);
}

TEST(plant, clears_after_the_burner_stops) {
  auto burner = plant{{}, 293.0, 0.5, dt};
  for (auto n = 0; n < 10000; ++n) burner.advance(firing());
  const auto hot = burner.gas();
  for (auto n = 0; n < 2000; ++n) burner.advance(controls{});
  EXPECT_NEAR(burner.gas().o2, air_oxygen, 1e-6);
  EXPECT_LT(burner.gas().co, 1e-9);
  EXPECT_LT(burner.gas().stack_k, hot.stack_k - 50.0);
}

}  // namespace
}  // namespace stilling::invented
