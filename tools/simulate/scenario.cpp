// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#include "scenario.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <string>

#include "incidents.hpp"

namespace stilling::invented {
namespace {

void first_visit(course& it) {
  it.fresh_air(60.0, 90.0).say("draft zeroed").put_probe_in().light().warm_up(1.1, 1.3);
  it.hold(120.0, 180.0).say("smoke 2");
  it.hold(30.0, 60.0).turn_shutter(it.dice.uniform(0.05, 0.09)).hold(300.0, 420.0).say("smoke 1");
  it.hold(30.0, 60.0).turn_shutter(it.dice.uniform(0.03, 0.05)).hold(300.0, 420.0);
  it.say("smoke trace").hold(60.0, 120.0).stop_burner().say("burner off").hold(60.0, 90.0);
  it.stop_log();
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
    longer ? it.hold(needed * 0.8, needed * 1.6 + 200.0) : it.hold(45.0, std::max(60.0, 0.5 * needed));
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

void cold_instrument(course& it) {
  auto& errors = it.plan.analyzer.errors;
  errors.warm_up = {it.dice.uniform(-3.0, 3.0), 0.0, it.dice.sign() * it.dice.log_uniform(0.2, 2.5),
                    it.dice.sign() * it.dice.log_uniform(6.0, 60.0), it.dice.uniform(-0.01, 0.01),
                    it.dice.uniform(-0.01, 0.01)};
  for (auto& tau : errors.warm_up_s) tau = it.dice.log_uniform(60.0, 500.0);
  it.plan.instrument_on_s = it.dice.uniform(2.0, 20.0);
  it.plan.warm = it.dice.uniform(0.6, 1.0);
  it.repeat_start().hold(300.0, 900.0).end();
}

void drifting_cells(course& it) {
  auto& errors = it.plan.analyzer.errors;
  const auto relative = [&] { return it.dice.sign() * it.dice.log_uniform(0.15, 2.5); };
  errors.drift_per_h[oxygen] = relative() * 0.1 * 60.0;
  errors.drift_per_h[monoxide] = it.dice.happens(0.5) ? relative() * 5.0 * 60.0 : 0.0;
  if (it.dice.happens(0.3)) errors.span_per_h[stack] = relative() * 3.0 * 60.0 / 450.0;
  it.repeat_start().hold(240.0, 700.0).end();
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
  const auto from = it.now() - it.settling_s() * it.dice.uniform(0.0, 0.5);
  const auto rate = it.dice.log_uniform(1.15, 3.0);  // of the limit
  it.hold(400.0, 1000.0);
  switch (it.dice.whole(0, 2)) {
    case 0:
      it.plan.ramps.push_back(
          {ramp::what::stack, from, 1e9, it.dice.sign() * rate * 3.0 / 1.8 / 60.0});
      break;
    case 1:
      it.plan.ramps.push_back({ramp::what::air, from, 1e9, rate * 0.008 / 60.0});
      break;
    default: slow_swing(it, from, it.now()); break;
  }
  it.end();
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

void flame_failure(course& it) {
  it.repeat_start().hold(20.0, 200.0);
  it.plan.happenings.push_back({std::floor(it.now()), deed::flame_failure});
  it.hold(20.0, 120.0).light().warm_up(0.6, 1.2).hold(100.0, 400.0).end();
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

void eventful(course& it) {
  it.repeat_start();
  if (it.dice.happens(0.25)) slow_swing(it, it.now() + it.dice.uniform(0.0, 300.0), 1e9);
  for (auto n = it.dice.whole(3, 6); n > 0; --n) {
    it.hold(30.0, 260.0);
    something_happens(it);
  }
  it.hold(100.0, 400.0).end();
}

constexpr auto all = std::to_array<scenario>({
    {"first_visit", "A whole visit: fresh air, warm-up, two air adjustments with notes.", first_visit},
    {"cold_start", "A cold appliance is lit, warms up, settles and is switched off.", cold_start},
    {"warm_start", "The same with an appliance still warm from its last burn.", warm_start},
    {"under_way", "The burner already runs when the probe goes in or the log begins.", under_way},
    {"air_adjustments", "The air shutter is moved several times, sometimes too far.", air_adjustments},
    {"draft_adjustments", "The draft regulator is moved, and the air follows a little.",
     draft_adjustments},
    {"probe_slips", "The probe slips and draws room air, or is pulled and put back.", probe_slips},
    {"short_cycling", "Burns too short to settle, with a longer one between.", short_cycling},
    {"staged_firing", "The burner changes between low and high fire.", staged_firing},
    {"cold_instrument", "The instrument was not given time to warm up.", cold_instrument},
    {"drifting_cells", "Zero or span of the cells drifts, slowly or too fast.", drifting_cells},
    {"hunting", "Air or fire swings with a period, from the start or later.", hunting},
    {"wandering", "The air ratio wanders slowly and irregularly.", wandering},
    {"creeping", "Stack temperature creeps at a constant rate near the limit.", creeping},
    {"restless", "Nothing ever holds still: a ramp above the limits, or a slow wide swing.", restless},
    {"never_lit", "The probe is in, the burner does not light, or only tries.", never_lit},
    {"flame_failure", "The flame goes out in the middle and is lit again.", flame_failure},
    {"faulty_sensors", "A stuck channel, blank cells, missing rows, bursts of spikes.", faulty_sensors},
    {"slow_logger", "One row in 5 or 10 s, and something happens between.", slow_logger},
    {"broken_clock", "The clock jumps, rows repeat, the logger pauses.", broken_clock},
    {"rising_monoxide", "CO climbs while the stack temperature stays flat.", rising_monoxide},
    {"gusty_day", "Gusts at the chimney pull at draft and air.", gusty_day},
    {"drifting_room", "The boiler room warms up or cools down during the test.", drifting_room},
    {"rough_signal", "Heavy noise with outliers and lone spikes.", rough_signal},
    {"quiet_display", "Noise far below one step: the display sits still or hops.", quiet_display},
    {"slow_approach", "A heavy appliance stays long at a rate near the limit.", slow_approach},
    {"light_appliance", "A light appliance settles in two minutes and burns briefly.",
     light_appliance},
    {"eventful", "Adjustments, slips, faults and pauses, one after another.", eventful},
});

}  // namespace

std::span<const scenario> scenarios() noexcept { return all; }

const scenario* find_scenario(std::string_view name) noexcept {
  const auto found = std::find_if(all.begin(), all.end(),
                                  [&](const scenario& it) { return it.name == name; });
  return found == all.end() ? nullptr : &*found;
}

simulation simulate(std::string_view name, std::uint64_t seed, const simulation_options& options) {
  auto script = course{name, seed, options.draws};
  if (options.adjust != nullptr) options.adjust(script.plan, options.adjust_to);
  find_scenario(name)->write(script);
  if (!options.remarks) script.plan.remarks.clear();
  auto result = run(script.plan, seed, options.noise_scale);
  const auto family = options.family.empty() ? name : options.family;
  result.name = std::string{family} + "-s" + std::to_string(seed);
  result.scenario = name;
  result.family = family;
  return result;
}

}  // namespace stilling::invented
