// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT

// Scenarios made by people, burner and appliance, seen by a sound instrument.

#include <algorithm>
#include <cmath>

#include "incidents.hpp"
#include "scripts.hpp"

namespace stilling::invented {

void first_visit(course& it) {
  it.plan.burner.air_ratio = it.dice.uniform(1.16, 1.22);  // found with too little air
  it.plan.warm = it.dice.uniform(0.5, 0.9);
  it.fresh_air(60.0, 90.0).say("draft zeroed").put_probe_in().light().warm_up(1.1, 1.3);
  it.hold(120.0, 180.0).say("smoke 2");
  it.hold(30.0, 60.0).turn_shutter(it.dice.uniform(0.05, 0.09)).hold(300.0, 420.0).say("smoke 1");
  it.hold(30.0, 60.0).turn_shutter(it.dice.uniform(0.03, 0.05)).hold(300.0, 420.0);
  it.say("smoke trace").hold(60.0, 120.0).stop_burner().say("burner off").hold(60.0, 90.0);
  it.stop_log();
}

/// An appliance that is the same for every seed, in a room at 20 degC, warm from its last burn.
static void settle_on(course& it, double air_ratio) {
  auto& burner = it.plan.burner;
  burner = {};
  burner.air_ratio = air_ratio;
  burner.draft_on_air = 0.0;
  burner.shell_rise_k = 15.0;
  burner.mass_rise_k = 2.0;
  it.plan.shutter_play = 0.0;
  it.plan.ambient_k = 293.15;
  it.plan.warm = 0.9;
}

/// Nothing to find fault with: every settled state lies within the limits of practice.
void whole_visit(course& it) {
  settle_on(it, 1.43);  // found with air to spare
  it.plan.burner.convective_units = 2.1;
  it.plan.burner.regulator_pa = 8.0;
  it.fresh_air(60.0, 90.0).say("draft zeroed").put_probe_in().say("burner on").light();
  it.warm_up(1.1, 1.3).hold(200.0, 260.0).set_regulator(-1.0).hold(200.0, 300.0).say("smoke 0");
  it.hold(30.0, 60.0).turn_shutter(-it.dice.uniform(0.10, 0.11)).hold(280.0, 340.0);
  it.say("smoke trace").hold(30.0, 60.0).turn_shutter(it.dice.uniform(0.05, 0.06));
  it.hold(300.0, 380.0).say("smoke 0").hold(40.0, 60.0).say("reading");
  it.hold(20.0, 40.0).say("burner off").stop_burner().hold(60.0, 90.0).stop_log();
}

/// A visit in haste: read before it settled, passages that hold the gas back, a cool flue, one
/// setting with CO, zero smoke that nobody came down to, and a regulator moved with no spot after.
void flawed_visit(course& it) {
  settle_on(it, 1.32);
  auto& burner = it.plan.burner;
  burner.convective_units = 2.45;
  burner.overfire_loss_pa = 19.0;
  burner.chimney_m = 14.0;
  burner.regulator_pa = 20.9;
  burner.co_rich = 132e-6;
  burner.co_rich_at = 1.275;
  burner.co_rich_width = 0.01;
  it.fresh_air(60.0, 90.0).say("draft zeroed").put_probe_in().light();
  it.hold(50.0, 60.0).say("reading").warm_up(1.1, 1.3).hold(240.0, 300.0).say("smoke 0");
  it.hold(30.0, 60.0).turn_shutter(1.275 / 1.32 - 1.0).hold(280.0, 340.0);
  it.turn_shutter(0.03 / 1.32).hold(280.0, 340.0).say("smoke 0");
  it.hold(30.0, 60.0).set_regulator(-0.5).hold(240.0, 300.0).say("burner off").stop_burner();
  it.hold(60.0, 90.0).stop_log();
}

void cold_start(course& it) {
  it.plan.warm = it.dice.uniform(0.0, 0.15);
  it.repeat_start().hold(150.0, 500.0).end();
}

void warm_start(course& it) {
  it.plan.warm = it.dice.uniform(0.8, 1.0);
  it.repeat_start().hold(150.0, 500.0).end();
}

/// The burner runs; the probe goes in late, or the log begins in the middle.
void under_way(course& it) {
  it.plan.lead_s = std::floor(it.settling_s() * it.dice.uniform(0.2, 1.5)) + 60.0;
  it.plan.happenings.push_back({-it.plan.lead_s, deed::ignition});
  it.plan.probe_starts_in = it.dice.happens(0.5);
  if (!it.plan.probe_starts_in) it.fresh_air(20.0, 90.0).put_probe_in();
  it.hold(300.0, 900.0).end();
}

void air_adjustments(course& it) {
  it.repeat_start().hold(60.0, 240.0);
  for (auto moves = it.dice.whole(2, 5); moves > 0; --moves) {
    const auto step = it.air_step();
    it.turn_shutter(step);
    if (it.dice.happens(0.3)) {  // too far, and part of the way back
      it.hold(6.0, 60.0).turn_shutter(-step * it.dice.uniform(0.3, 0.8));
    }
    it.hold(it.dice.happens(0.25) ? 30.0 : 130.0, 420.0);
  }
  it.end();
}

void draft_adjustments(course& it) {
  it.plan.burner.draft_on_air = it.dice.uniform(0.04, 0.15);
  it.repeat_start().hold(60.0, 240.0);
  for (auto moves = it.dice.whole(1, 4); moves > 0; --moves) {
    it.set_regulator(it.dice.sign() * it.dice.uniform(0.8, 5.0)).hold(60.0, 350.0);
  }
  it.end();
}

void probe_slips(course& it) {
  it.repeat_start().hold(60.0, 240.0);
  for (auto slips = it.dice.whole(2, 5); slips > 0; --slips) {
    disturb_probe(it);
    it.hold(60.0, 400.0);
  }
  it.end();
}

void short_cycling(course& it) {
  it.fresh_air().put_probe_in();
  const auto needed = it.settling_s();
  const auto burns = it.dice.whole(4, 7);
  for (auto n = 0; n < burns; ++n) {
    const auto longer = n > 0 && it.dice.happens(0.35);
    it.light();
    longer ? it.hold(needed * 0.8, needed * 1.3 + 150.0)
           : it.hold(45.0, std::max(60.0, 0.5 * needed));
    it.stop_burner().hold(60.0, 320.0);
  }
  it.stop_log();
}

void staged_firing(course& it) {
  const auto low = it.dice.uniform(0.55, 0.8);
  const auto begins_low = it.dice.happens(0.6);
  it.fresh_air().put_probe_in();
  if (begins_low) it.change_stage(low);
  it.light().warm_up().hold(30.0, 250.0);
  auto fire = begins_low ? low : 1.0;
  for (auto changes = it.dice.whole(1, 3); changes > 0; --changes) {
    fire = fire < 1.0 ? 1.0 : low;
    it.change_stage(fire).turn_shutter(it.dice.uniform(-0.06, 0.06)).hold(150.0, 600.0);
  }
  it.end();
}

/// Heavy appliance: long at a rate near the limit.
void slow_approach(course& it) {
  auto& burner = it.plan.burner;
  it.plan.warm = it.dice.uniform(0.0, 0.5);
  burner.gas_path_s = it.dice.log_uniform(60.0, 180.0);
  burner.shell_rise_k = it.dice.uniform(30.0, 90.0);
  burner.shell_s = it.dice.log_uniform(150.0, 400.0);
  burner.mass_s = it.dice.log_uniform(500.0, 1600.0);
  it.repeat_start().hold(300.0, 900.0).end();
}

void light_appliance(course& it) {
  auto& burner = it.plan.burner;
  it.plan.warm = it.dice.uniform(0.5, 1.0);
  burner.gas_path_s = it.dice.log_uniform(5.0, 20.0);
  burner.shell_s = it.dice.log_uniform(12.0, 40.0);
  burner.mass_rise_k = it.dice.uniform(0.0, 6.0);
  it.fresh_air().put_probe_in();
  for (auto burns = it.dice.whole(1, 3); burns > 0; --burns) {
    it.light().warm_up().hold(40.0, 240.0).stop_burner().hold(60.0, 200.0);
  }
  it.stop_log();
}

void long_burn(course& it) { it.repeat_start().hold(2400.0, 6000.0).end(); }

void flame_failure(course& it) {
  it.repeat_start().hold(20.0, 200.0);
  it.plan.happenings.push_back({std::floor(it.now()), deed::flame_failure});
  it.hold(20.0, 120.0).light().warm_up(0.6, 1.2).hold(100.0, 400.0).end();
}

void never_lit(course& it) {
  it.fresh_air().put_probe_in();
  for (auto trials = it.dice.whole(0, 3); trials > 0; --trials) {
    it.light().hold(2.0, 12.0);
    it.plan.happenings.push_back({std::floor(it.now()), deed::flame_failure});
    it.hold(45.0, 200.0);
  }
  it.hold(200.0, 700.0).stop_log();
}

void eventful(course& it) {
  it.repeat_start();
  if (it.dice.happens(0.25)) slow_swing(it, it.now() + it.dice.uniform(0.0, 300.0), 1e9);
  for (auto n = it.dice.whole(3, 6); n > 0; --n) {
    it.hold(30.0, 260.0);
    something_happens(it);
  }
  it.hold(100.0, 400.0).end();
}

}  // namespace stilling::invented
