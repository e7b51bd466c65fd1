// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT

// The draws of `course`: which appliance, instrument and logger take part. Ranges by judgement:
// residential oil burners, hand-held instruments.

#include "course.hpp"

namespace stilling::invented {

void course::draw_burner() {
  auto& it = plan.burner;
  plan.ambient_k = dice.uniform(283.0, 303.0);
  it.hydrogen_per_carbon = dice.uniform(1.78, 1.95);
  it.air_ratio = dice.uniform(1.20, wide_ ? 1.60 : 1.45);
  it.convective_units = dice.uniform(1.5, 2.15);
  it.radiative_units = dice.uniform(0.3, 0.65);
  it.gas_path_s = dice.log_uniform(wide_ ? 12.0 : 25.0, wide_ ? 130.0 : 70.0);
  it.shell_rise_k = dice.uniform(15.0, 60.0);
  it.shell_s = dice.log_uniform(30.0, wide_ ? 220.0 : 120.0);
  const auto boiler = dice.happens(0.5);
  it.load_k = boiler ? dice.uniform(325.0, 350.0) : dice.uniform(296.0, 312.0);
  it.mass_rise_k = dice.uniform(0.0, 30.0);
  it.mass_s = dice.log_uniform(300.0, 1500.0);
  plan.warm = dice.happens(0.3) ? dice.uniform(0.0, 0.3) : dice.uniform(0.4, 1.0);

  const auto dirty = wide_ && dice.happens(0.12);
  it.co_floor = 1e-6 * (dirty ? dice.log_uniform(60.0, 700.0) : dice.log_uniform(1.0, 25.0));
  it.co_rich = 1e-6 * dice.log_uniform(100.0, 600.0);
  it.co_rich_at = dice.uniform(1.05, 1.13);
  it.co_rich_width = dice.uniform(0.02, 0.045);
  it.co_lean = 1e-6 * dice.log_uniform(20.0, 150.0);
  it.co_lean_at = dice.uniform(1.5, 1.75);
  it.co_cold = 1e-6 * dice.log_uniform(3.0, 80.0);
  it.chamber_s = dice.log_uniform(25.0, 160.0);
  it.ignition_spike = 1e-6 * dice.log_uniform(40.0, 900.0);
  it.ignition_spike_s = dice.log_uniform(3.0, 20.0);

  it.chimney_m = dice.uniform(4.0, 10.0);
  it.chimney_s = dice.log_uniform(60.0, 400.0);
  it.regulator_pa = dice.uniform(7.0, 15.0);
  it.overfire_loss_pa = dice.uniform(2.0, 8.0);
  it.draft_on_air = dice.uniform(0.0, 0.04);
  plan.shutter_play = dice.happens(0.5) ? dice.uniform(0.0, 0.02) : 0.0;
  plan.wanders.push_back({-1e9, 1e9, dice.log_uniform(10.0, 90.0),
                          dice.happens(0.5) ? 0.0 : dice.log_uniform(5e-5, 8e-4)});
}

void course::draw_instrument() {
  auto& it = plan.analyzer;
  it.delay_s = dice.uniform(1.5, wide_ ? 15.0 : 8.0);
  it.mixing_s = dice.uniform(0.5, 5.0);
  it.o2_s = dice.log_uniform(2.5, wide_ ? 16.0 : 9.0);
  it.co_s = dice.log_uniform(6.0, wide_ ? 35.0 : 18.0);
  it.co_tail_share = dice.happens(0.5) ? 0.0 : dice.uniform(0.02, wide_ ? 0.15 : 0.06);
  it.co_tail_s = dice.uniform(40.0, 150.0);
  it.thermocouple_s = dice.log_uniform(0.8, wide_ ? 15.0 : 6.0);
  it.thermocouple_loss = dice.uniform(0.0, 0.03);
  it.gauge_s = dice.log_uniform(0.3, 4.0);
  it.dilution_on_stack = dice.uniform(0.2, 0.95);
  auto& errors = it.errors;
  errors.zero = {dice.uniform(-2.0, 2.0), dice.uniform(-1.5, 1.5),     dice.uniform(-0.15, 0.15),
                 dice.uniform(-2.0, 2.0), dice.uniform(-0.001, 0.001), dice.uniform(-0.001, 0.001)};
  errors.span = {dice.uniform(-0.004, 0.004), 0.0,
                 dice.uniform(-0.008, 0.008), dice.uniform(-0.04, 0.04),
                 dice.uniform(-0.02, 0.02),   dice.uniform(-0.02, 0.02)};
  errors.drift_per_h = {0.0,
                        0.0,
                        dice.uniform(-0.1, 0.1),
                        dice.uniform(-2.0, 2.0),
                        dice.uniform(-0.001, 0.001),
                        dice.uniform(-0.001, 0.001)};
  if (dice.happens(0.5)) {  // not quite warm yet
    errors.warm_up[oxygen] = dice.uniform(-0.15, 0.15);
    errors.warm_up[monoxide] = dice.uniform(-4.0, 4.0);
    errors.warm_up_s.fill(dice.log_uniform(60.0, 400.0));
  }
  plan.instrument_on_s = dice.uniform(5.0, 60.0);
}

void course::draw_noise() {
  auto& it = plan.analyzer.noise;
  const auto most = wide_ ? 1.0 : 0.35;
  const auto least = wide_ ? 0.06 : 0.15;
  const auto level = dice.log_uniform(least, most);  // some instruments are noisy altogether
  const auto near = [&] { return level * dice.log_uniform(0.5, 2.0); };
  it.white = {near(), 0.5 * near(), 0.06 * near(), 2.0 * near(), 0.003 * near(), 0.003 * near()};
  it.correlated = {near(),       0.4 * near(),   0.04 * near(),
                   1.2 * near(), 0.003 * near(), 0.003 * near()};
  for (auto& tau : it.correlation_s) {
    tau = wide_ ? dice.pick({0.0, 1.0, 2.0, 5.0, 10.0, 15.0, 30.0}) : dice.pick({1.0, 3.0, 6.0});
  }
  it.of_reading[monoxide] = dice.happens(0.5) ? 0.0 : dice.uniform(0.002, 0.012);
  if (wide_ && dice.happens(0.35)) it.heavy_share = dice.log_uniform(0.003, 0.05);
  if (wide_ && dice.happens(0.3)) it.spike_share = dice.log_uniform(0.0003, 0.01);
}

void course::draw_display() {
  if (!wide_) return;
  auto& show = plan.analyzer.display;
  using step = display_step;
  const auto usual = dice.happens(0.6);
  if (usual) return;
  show[stack] = dice.pick({step{1, 1}, step{2, 1}, step{5, 1}, step{1, 0}, step{1, 0}, step{2, 0}});
  show[ambient] = dice.pick({step{1, 1}, step{1, 0}});
  show[oxygen] = dice.pick({step{1, 2}, step{5, 2}, step{1, 1}, step{1, 1}, step{2, 1}});
  show[monoxide] = dice.pick({step{1, 1}, step{1, 0}, step{1, 0}, step{2, 0}});
  show[breech] = dice.pick({step{1, 4}, step{1, 3}, step{2, 3}, step{1, 2}});
  show[overfire] = show[breech];
}

void course::draw_logger() {
  if (!wide_) return;
  auto& it = plan.rows;
  it.interval_s = dice.pick({0.5, 1.0, 1.0, 1.0, 1.0, 1.0, 2.0, 2.0, 5.0});
  if (dice.happens(0.35)) {
    it.jitter = dice.uniform(0.02, 0.25);
    it.stamp_decimals = dice.pick({1, 2, 3});
  } else if (dice.happens(0.25)) {
    it.stamp_decimals = 0;  // a clock that shows whole seconds
  }
  if (dice.happens(0.3)) it.lost = dice.log_uniform(0.002, 0.12);
  if (dice.happens(0.12)) it.origin_s = 1'700'000'000 + dice.whole(0, 30'000'000);
}

}  // namespace stilling::invented
