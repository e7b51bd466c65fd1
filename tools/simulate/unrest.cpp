// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT

// Scenarios in which instrument or logger fail, or the flue never holds still.

#include <cmath>

#include "incidents.hpp"
#include "scripts.hpp"

namespace stilling::invented {

void cold_instrument(course& it) {
  auto& errors = it.plan.analyzer.errors;
  errors.warm_up = {it.dice.uniform(-3.0, 3.0),
                    0.0,
                    it.dice.sign() * it.dice.log_uniform(0.2, 2.5),
                    it.dice.sign() * it.dice.log_uniform(6.0, 60.0),
                    it.dice.uniform(-0.01, 0.01),
                    it.dice.uniform(-0.01, 0.01)};
  for (auto& tau : errors.warm_up_s) tau = it.dice.log_uniform(60.0, 500.0);
  it.plan.instrument_on_s = it.dice.uniform(2.0, 20.0);
  it.plan.warm = it.dice.uniform(0.6, 1.0);
  it.repeat_start().hold(300.0, 900.0).end();
}

/// Its housing warms up, and everything in it keeps the same time.
void warming_instrument(course& it) {
  auto& errors = it.plan.analyzer.errors;
  errors.warm_up = {it.dice.sign() * it.dice.log_uniform(5.0, 25.0),
                    it.dice.sign() * it.dice.log_uniform(3.0, 9.0),
                    it.dice.sign() * it.dice.log_uniform(0.3, 1.0),
                    it.dice.sign() * it.dice.log_uniform(8.0, 30.0),
                    0.0,
                    0.0};
  errors.warm_up_s.fill(it.dice.log_uniform(50.0, 180.0));
  it.plan.instrument_on_s = it.dice.uniform(2.0, 20.0);
  it.plan.warm = it.dice.uniform(0.6, 1.0);
  if (it.dice.happens(0.5)) {  // the appliance has run for long, the probe sits in the flue
    it.plan.lead_s = std::floor(2.0 * it.settling_s()) + 300.0;
    it.plan.happenings.push_back({-it.plan.lead_s, deed::ignition});
    it.plan.probe_starts_in = true;
    it.hold(600.0, 1200.0).end();
  } else {
    it.fresh_air(90.0, 240.0).put_probe_in().light().warm_up();
    it.hold(300.0, 900.0).end();
  }
}

void drifting_cells(course& it) {
  auto& errors = it.plan.analyzer.errors;
  const auto relative = [&] { return it.dice.sign() * it.dice.log_uniform(0.15, 2.5); };
  errors.drift_per_h[oxygen] = relative() * 0.1 * 60.0;
  errors.drift_per_h[monoxide] = it.dice.happens(0.5) ? relative() * 5.0 * 60.0 : 0.0;
  if (it.dice.happens(0.3)) errors.span_per_h[stack] = relative() * 3.0 * 60.0 / 450.0;
  it.repeat_start().hold(240.0, 700.0).end();
}

/// As an instrument does that was set in fresh air and is shown fresh air again in the end.
void drifting_between(course& it) {
  auto& errors = it.plan.analyzer.errors;
  errors.span_per_h[oxygen] = -it.dice.log_uniform(0.005, 0.08);
  const auto monoxide_per_h = it.dice.sign() * it.dice.log_uniform(2.0, 20.0);
  if (it.dice.happens(0.5)) {
    errors.drift_per_h[monoxide] = monoxide_per_h;
  } else {  // quick at first, slower and slower
    errors.warm_up[monoxide] = monoxide_per_h * 0.5;
    errors.warm_up_s[monoxide] = it.dice.log_uniform(300.0, 1500.0);
  }
  it.repeat_start().hold(120.0, 300.0);
  it.turn_shutter(it.air_step()).hold(240.0, 600.0);
  it.stop_burner().say("burner off").hold(10.0, 40.0);
  it.pull_probe_out().fresh_air(150.0, 240.0).stop_log();
}

void hunting(course& it) {
  it.repeat_start();
  const auto period = it.dice.happens(0.7) ? it.dice.whole(8, 60) : it.dice.whole(60, 120);
  const auto air = it.dice.log_uniform(0.003, 0.05);
  const auto fire = it.dice.happens(0.3) ? it.dice.uniform(0.005, 0.03) : 0.0;
  const auto from = it.dice.happens(0.5) ? 0.0 : it.now() + it.dice.uniform(-60.0, 300.0);
  const auto stops = it.dice.happens(0.35);
  it.hold(400.0, 800.0);
  it.hunt(from, stops ? it.now() : 1e9, period, air, fire);
  if (stops) it.hold(120.0, 400.0);
  if (it.dice.happens(0.25)) it.turn_shutter(it.air_step()).hold(200.0, 400.0);
  it.end();
}

void wandering(course& it) {
  it.plan.wanders.push_back({it.dice.happens(0.5) ? -1e9 : it.settling_s() + 250.0, 1e9,
                             it.dice.log_uniform(40.0, 400.0), it.dice.log_uniform(0.002, 0.02)});
  it.repeat_start().hold(400.0, 1200.0).end();
}

void creeping(course& it) {
  it.repeat_start().hold(0.0, 120.0);
  const auto rate = it.dice.sign() * it.dice.log_uniform(0.3, 1.6) * 3.0 / 1.8 / 60.0;
  const auto from = it.dice.happens(0.5) ? 0.0 : it.now();
  it.hold(500.0, 1200.0);
  it.plan.ramps.push_back({ramp::what::stack, from, 1e9, rate});
  it.end();
}

/// A straight ramp above the limits, or a swing too slow and too wide to be excused as hunting.
void restless(course& it) {
  it.repeat_start();
  const auto from = it.now() - it.settling_s() * it.dice.uniform(0.5, 0.9);
  const auto rate = it.dice.log_uniform(1.15, 3.0);  // of the limit
  it.hold(400.0, 1000.0);
  switch (it.dice.whole(0, 2)) {
    case 0:
      it.plan.ramps.push_back(
          {ramp::what::stack, from, 1e9, it.dice.sign() * rate * 3.0 / 1.8 / 60.0});
      break;
    case 1: it.plan.ramps.push_back({ramp::what::air, from, 1e9, rate * 0.008 / 60.0}); break;
    default: slow_swing(it, from, it.now()); break;
  }
  it.end();
}

void faulty_sensors(course& it) {
  it.repeat_start().hold(40.0, 150.0);
  for (auto faults = it.dice.whole(2, 5); faults > 0; --faults) {
    break_something(it);
    it.hold(80.0, 300.0);
  }
  it.end();
}

void slow_logger(course& it) {
  it.plan.rows.interval_s = it.dice.pick({5.0, 10.0});
  it.repeat_start().hold(120.0, 300.0);
  for (auto n = it.dice.whole(1, 2); n > 0; --n) {
    something_happens(it);
    it.hold(200.0, 500.0);
  }
  it.end();
}

void broken_clock(course& it) {
  it.repeat_start().hold(60.0, 200.0);
  for (auto n = it.dice.whole(1, 3); n > 0; --n) {
    break_clock(it);
    it.hold(150.0, 400.0);
    if (it.dice.happens(0.3)) it.turn_shutter(it.air_step()).hold(150.0, 300.0);
  }
  it.end();
}

void rising_monoxide(course& it) {
  it.repeat_start().hold(60.0, 250.0);
  const auto from = it.now();
  const auto rate = it.dice.log_uniform(0.4, 6.0) * 5.0 / 60.0;
  it.hold(250.0, 600.0);
  const auto levels_off = it.dice.happens(0.4);
  it.plan.ramps.push_back({ramp::what::monoxide, from, levels_off ? it.now() : 1e9, rate});
  it.hold(levels_off ? 200.0 : 0.0, 400.0).end();
}

void gusty_day(course& it) {
  it.plan.burner.draft_on_air = it.dice.uniform(0.03, 0.12);
  it.repeat_start().hold(400.0, 900.0);
  for (auto at = it.dice.uniform(0.0, 90.0); at < it.now();
       at += it.dice.log_uniform(15.0, 400.0)) {
    const auto lasting = it.dice.log_uniform(2.0, 25.0);
    it.plan.gusts.push_back({std::floor(at), lasting, it.dice.uniform(-6.0, 14.0)});
  }
  it.end();
}

void drifting_room(course& it) {
  it.repeat_start().hold(400.0, 1000.0);
  const auto rate = it.dice.sign() * it.dice.log_uniform(0.1, 1.5) / 60.0;
  it.plan.ramps.push_back({ramp::what::ambient, 0.0, 900.0, rate});
  it.end();
}

void rough_signal(course& it) {
  auto& noise = it.plan.analyzer.noise;
  for (std::size_t c = 0; c < channel_count; ++c) {
    noise.white[c] *= it.dice.uniform(1.5, 3.0);
    noise.correlated[c] *= it.dice.uniform(1.5, 3.0);
  }
  noise.heavy_share = it.dice.log_uniform(0.01, 0.1);
  noise.spike_share = it.dice.happens(0.5) ? it.dice.log_uniform(0.003, 0.03) : 0.0;
  it.repeat_start().hold(200.0, 500.0);
  if (it.dice.happens(0.5)) something_happens(it);
  it.hold(200.0, 400.0).end();
}

void quiet_display(course& it) {
  auto& noise = it.plan.analyzer.noise;
  for (std::size_t c = 0; c < channel_count; ++c) {
    noise.white[c] *= 0.1;
    noise.correlated[c] *= 0.1;
  }
  noise.spike_share = noise.heavy_share = 0.0;
  it.plan.analyzer.display[stack] = it.dice.pick({display_step{1, 0}, {2, 0}, {5, 0}});
  it.plan.analyzer.display[oxygen] = it.dice.pick({display_step{1, 1}, {2, 1}, {5, 1}});
  it.repeat_start().hold(200.0, 500.0);
  if (it.dice.happens(0.5)) something_happens(it);
  it.hold(200.0, 400.0).end();
}

}  // namespace stilling::invented
