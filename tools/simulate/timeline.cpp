// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#include "timeline.hpp"

#include <algorithm>
#include <cmath>

namespace stilling::invented {
namespace {

constexpr double shutter_speed = 0.04;  // relative change per s: a hand at the lever

/// Value of a wave of unit amplitude at a phase counted in turns.
double value(wave shape, double turns) {
  const auto phase = turns - std::floor(turns);
  switch (shape) {
    case wave::sine: return sine_of_turns(phase);
    case wave::triangle: return phase < 0.5 ? 4.0 * phase - 1.0 : 3.0 - 4.0 * phase;
    case wave::relay: {  // a regulator that sticks and lets go: quick, then slower and slower
      const auto half = phase < 0.5 ? phase : phase - 0.5;
      const auto level = 2.0 * (1.0 - exponential(-10.0 * half)) / (1.0 - exponential(-5.0)) - 1.0;
      return phase < 0.5 ? level : -level;
    }
  }
  return 0.0;
}

double towards(double from, double to, double most) {
  return from + std::clamp(to - from, -most, most);
}

}  // namespace

timeline::timeline(const test_plan& plan, chance wandering, double dt)
    : plan_{&plan},
      wandering_{wandering},
      dt_{dt},
      due_{plan.happenings},
      wander_state_(plan.wanders.size()) {
  std::stable_sort(due_.begin(), due_.end(),
                   [](const happening& a, const happening& b) { return a.at_s < b.at_s; });
  for (auto& state : wander_state_) state = wandering_.normal();
  if (plan.probe_starts_in) dilution_ = dilution_goal_ = 0.0;
  now_.ambient_k = plan.ambient_k;
}

void timeline::apply(const happening& it) {
  const auto seat = [&](double share) {
    dilution_goal_ = share;
    dilution_per_s_ = std::abs(share - dilution_) / std::max(dt_, it.lasting_s);
  };
  switch (it.what) {
    case deed::probe_in:
    case deed::probe_restored: return seat(0.0);
    case deed::probe_out: return seat(1.0);
    case deed::probe_bumped: return seat(it.amount);
    case deed::ignition: now_.firing = true; return;
    case deed::burner_off:
    case deed::flame_failure: now_.firing = false; return;
    case deed::air_shutter: lever_ += it.amount; return;
    case deed::draft_regulator: now_.regulator_pa += it.amount; return;
    case deed::stage_change: stage_ = it.amount; return;
  }
}

void timeline::move_shutter() {
  const auto play = plan_->shutter_play;
  const auto dragged = std::clamp(shutter_, lever_ - play, lever_ + play);
  shutter_ = towards(shutter_, dragged, shutter_speed * dt_);
}

void timeline::move_probe() {
  dilution_ = towards(dilution_, dilution_goal_, dilution_per_s_ * dt_);
}

void timeline::advance(double at_s) {
  for (; next_ < due_.size() && due_[next_].at_s <= at_s + 1e-6; ++next_) apply(due_[next_]);
  move_shutter();
  move_probe();
  const auto active = [&](const auto& it) { return it.from_s <= at_s && at_s < it.to_s; };
  now_.air_change = shutter_;
  burning_rate_ = towards(burning_rate_, stage_, 0.15 * dt_);
  auto fire_swing = 0.0;
  for (const auto& it : plan_->swings) {
    if (!active(it)) continue;
    const auto position = value(it.shape, (at_s - it.from_s) / it.period_s);
    now_.air_change += it.air * position;
    fire_swing += it.fire * position;
  }
  for (std::size_t i = 0; i < plan_->wanders.size(); ++i) {
    const auto& it = plan_->wanders[i];
    const auto kept = decay(dt_, it.correlation_s);
    wander_state_[i] = kept * wander_state_[i] + std::sqrt(1.0 - kept * kept) * wandering_.normal();
    if (active(it)) now_.air_change += it.air * wander_state_[i];
  }
  now_.stack_shift_k = now_.co_added = 0.0;
  now_.ambient_k = plan_->ambient_k;
  for (const auto& it : plan_->ramps) {
    const auto change = it.per_s * std::clamp(at_s - it.from_s, 0.0, it.to_s - it.from_s);
    switch (it.of) {
      case ramp::what::stack: now_.stack_shift_k += change; break;
      case ramp::what::air: now_.air_change += change; break;
      case ramp::what::monoxide: now_.co_added += 1e-6 * change; break;
      case ramp::what::ambient: now_.ambient_k += change; break;
    }
  }
  now_.gust_pa = 0.0;
  for (const auto& it : plan_->gusts) {
    const auto share = (at_s - it.at_s) / it.lasting_s;
    if (0.0 < share && share < 1.0) now_.gust_pa += it.pascal * sine_of_turns(0.5 * share);
  }
  now_.fire = burning_rate_ * (1.0 + fire_swing);
}

}  // namespace stilling::invented
