// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#include "incidents.hpp"

#include <cmath>

namespace stilling::invented {

void disturb_probe(course& it) {
  if (it.dice.happens(0.3)) {
    it.pull_probe(8.0, 120.0);
    return;
  }
  const auto share = it.dice.uniform(0.1, 0.6);
  const auto reseat =
      it.dice.happens(0.3) ? it.dice.uniform(10.0, 90.0) : it.dice.uniform(0.3, 3.0);
  it.slip_probe(share, it.dice.log_uniform(8.0, 150.0), reseat);
}

void break_something(course& it) {
  using kind = fault::kind;
  const auto from = it.now();
  const auto on = it.dice.pick({stack, stack, oxygen, oxygen, monoxide, monoxide, ambient, breech});
  const auto lasting = it.dice.log_uniform(5.0, 160.0);
  switch (it.dice.pick({0, 0, 1, 2, 3})) {
    case 0: it.ruin(kind::sensor_stuck, from, lasting, on); break;
    case 1: it.ruin(kind::blank_cells, from, lasting, on); break;
    case 2: it.ruin(kind::rows_missing, from, it.dice.log_uniform(5.0, 120.0)); break;
    default:
      it.ruin(kind::spike_burst, from, it.dice.log_uniform(3.0, 45.0), on,
              it.dice.log_uniform(8.0, 200.0));
  }
  it.hold(lasting, lasting);
}

void break_clock(course& it) {
  using kind = fault::kind;
  const auto at = std::floor(it.now());
  switch (it.dice.whole(0, 4)) {
    case 0: it.ruin(kind::clock_jump, at, 0.0, stack, it.dice.whole(20, 4000)); break;
    case 1: it.ruin(kind::clock_jump, at, 0.0, stack, -it.dice.whole(5, 600)); break;
    case 2: it.ruin(kind::rows_repeated, at, it.dice.uniform(5.0, 90.0)); break;
    case 3: it.ruin(kind::rows_missing, at, it.dice.uniform(60.0, 400.0)); break;
    default: it.ruin(kind::rows_missing, at, it.dice.uniform(3.0, 60.0)); break;
  }
  it.hold(60.0, 60.0);
}

void something_happens(course& it) {
  switch (it.dice.whole(0, 6)) {
    case 0:
    case 1: disturb_probe(it); break;
    case 2: break_something(it); break;
    case 3: it.set_regulator(it.dice.sign() * it.dice.uniform(0.8, 4.0)); break;
    case 4: {
      const auto fire = it.dice.uniform(0.65, 0.9);
      it.change_stage(fire).hold(60.0, 300.0).change_stage(1.0);
      break;
    }
    default: it.turn_shutter(it.air_step()); break;
  }
}

void slow_swing(course& it, double from_s, double to_s) {
  const auto period = it.dice.uniform(150.0, 600.0);
  const auto air = period / 600.0 * it.dice.log_uniform(0.05, 0.15);
  const auto half = 0.5 * period;
  // straight up and down: ramps of the air ratio, half a period each
  auto sign = it.dice.sign();
  for (auto at = from_s; at < to_s && at < from_s + 3000.0; at += half, sign = -sign) {
    it.plan.ramps.push_back({ramp::what::air, at, at + half, sign * air / half});
  }
}

}  // namespace stilling::invented
