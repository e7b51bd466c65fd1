// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#include "course.hpp"

#include <algorithm>
#include <cmath>
#include <utility>

#include "simulation.hpp"

namespace stilling::invented {
namespace {

double tenth(double x) { return std::floor(x * 10.0 + 0.5) / 10.0; }

}  // namespace

std::string_view word(deed what) noexcept {
  switch (what) {
    case deed::probe_in: return "probe_in";
    case deed::probe_out: return "probe_out";
    case deed::probe_bumped: return "probe_bumped";
    case deed::probe_restored: return "probe_restored";
    case deed::ignition: return "ignition";
    case deed::burner_off: return "burner_off";
    case deed::air_shutter: return "air_shutter";
    case deed::draft_regulator: return "draft_regulator";
    case deed::stage_change: return "stage_change";
    case deed::flame_failure: return "flame_failure";
  }
  return "";
}

std::string_view word(fault::kind what) noexcept {
  switch (what) {
    case fault::kind::sensor_stuck: return "sensor_stuck";
    case fault::kind::blank_cells: return "blank_cells";
    case fault::kind::rows_missing: return "rows_missing";
    case fault::kind::spike_burst: return "spike_burst";
    case fault::kind::rows_repeated: return "rows_repeated";
    case fault::kind::clock_jump: return "clock_jump";
  }
  return "";
}

course::course(std::string_view scenario, std::uint64_t seed, breadth how)
    : dice{seed, std::string{scenario} + "/script"}, wide_{how == breadth::wide} {
  draw_burner();
  draw_instrument();
  draw_noise();
  draw_display();
  draw_logger();
}

course& course::note(deed what, double amount, double lasting_s) {
  plan.happenings.push_back({tenth(now_), what, amount, lasting_s});
  return *this;
}

course& course::hold(double least_s, double most_s) {
  now_ += dice.uniform(least_s, most_s);
  return *this;
}

course& course::warm_up(double least, double most) {
  now_ += settling_s() * dice.uniform(least, most);
  return *this;
}

course& course::fresh_air(double least_s, double most_s) {
  say("fresh air");
  return hold(least_s, most_s);
}

course& course::put_probe_in() {
  note(deed::probe_in, 0.0, dice.uniform(0.3, 3.0)).say("probe in");
  return hold(5.0, 40.0);
}

course& course::light() { return note(deed::ignition); }

course& course::stop_burner() { return note(deed::burner_off); }

course& course::repeat_start() { return fresh_air().put_probe_in().light().warm_up(); }

course& course::turn_shutter(double relative) {
  const auto ratio = plan.burner.air_ratio * (1.0 + lever_ + relative);
  if (ratio < 1.1 || ratio > 1.8) relative = -relative;
  lever_ += relative;
  return note(deed::air_shutter, relative).say("adjusted air");
}

course& course::set_regulator(double pascal) {
  return note(deed::draft_regulator, pascal).say("adjusted draft");
}

course& course::change_stage(double fire) { return note(deed::stage_change, fire); }

course& course::slip_probe(double share, double for_s, double reseat_s) {
  note(deed::probe_bumped, share, dice.uniform(0.3, 4.0));
  now_ += for_s;
  return note(deed::probe_restored, 0.0, reseat_s);
}

course& course::pull_probe(double for_least_s, double for_most_s) {
  note(deed::probe_out, 0.0, 0.5).hold(for_least_s, for_most_s);
  return note(deed::probe_in, 0.0, dice.uniform(0.3, 3.0));
}

course& course::pull_probe_out() { return note(deed::probe_out, 0.0, 0.5); }

course& course::say(std::string text) {
  plan.remarks.push_back({now_, std::move(text)});
  return *this;
}

course& course::end() {
  if (dice.happens(0.35)) {
    note(deed::probe_out, 0.0, 0.5).hold(10.0, 90.0);
    stop_burner();
  } else {
    stop_burner().hold(20.0, 180.0);
    if (dice.happens(0.4)) note(deed::probe_out, 0.0, 0.5).hold(20.0, 60.0);
  }
  return stop_log();
}

course& course::stop_log() {
  plan.duration_s = std::floor(now_ + 1.0);
  return *this;
}

course& course::ruin(fault::kind what, double from_s, double for_s, channel on, double amount) {
  plan.faults.push_back({what, tenth(from_s), tenth(from_s + for_s), on, amount});
  return *this;
}

void course::hunt(double from_s, double to_s, int period_s, double air, double fire) {
  const auto shape = dice.pick({wave::sine, wave::sine, wave::triangle, wave::relay});
  plan.swings.push_back({tenth(from_s), tenth(to_s), period_s, air, fire, shape});
}

double course::air_step() {
  const auto size = dice.log_uniform(0.015, 0.16);
  const auto lean = plan.burner.air_ratio > 1.38;
  return dice.happens(0.75) == lean ? -size : size;
}

double course::settling_s() const {
  constexpr auto dt = 0.5;
  auto burner = plant{plan.burner, plan.ambient_k, plan.warm, dt};
  auto analyzer = instrument{plan.analyzer, burner.gas(), dt};
  auto now = controls{};
  now.firing = true;
  now.ambient_k = plan.ambient_k;
  for (const auto& it : plan.happenings) {  // the stage it is lit in
    if (it.what == deed::stage_change) now.fire = it.amount;
  }
  auto earlier = lanes{};
  for (auto step = 0; step < 3000; ++step) {
    burner.advance(now);
    analyzer.advance(burner.gas(), 0.0, 1e6);
    if (step % 60 != 59) continue;  // every 30 s: half of the limits per minute
    auto worst = 0.0;
    for (std::size_t r = 0; r < required.size(); ++r) {
      const auto change = std::abs(analyzer.sensed()[required[r]] - earlier[required[r]]);
      worst = std::max(worst, change / (0.5 * limits_per_min[r]));
    }
    if (step > 100 && worst <= 1.0) return dt * step + 30.0;
    earlier = analyzer.sensed();
  }
  return 1500.0;
}

}  // namespace stilling::invented
