// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#pragma once

#include <string_view>

#include "stilling/combustion/fuel_table.hpp"
#include "stilling/text.hpp"
#include "stilling/visit/visit.hpp"

// Visits put together by hand, for what draws or reports them.

namespace stilling::gathered_visit {

inline instant at(int s) { return instant{seconds(s)}; }

inline visit empty() { return visit{*find_fuel("no2_oil"), {}}; }

inline presentation in_degf() {
  presentation as;
  as.columns = {channel::stack_temp, channel::ambient_temp, channel::o2, channel::co};
  as.units[index_of(channel::stack_temp)] = unit::fahrenheit;
  as.units[index_of(channel::ambient_temp)] = unit::fahrenheit;
  as.units[index_of(channel::o2)] = unit::percent;
  as.units[index_of(channel::co)] = unit::ppm;
  return as;
}

struct row {
  double stack = 520, o2 = 0.05, co = 20e-6;
};

/// Rows a second apart; `without`: a channel the log does not have.
inline void add_rows(visit& v, int from, int to, row values, channel_set without = {}) {
  for (int t = from; t < to; ++t) {
    verdict x;
    x.row.at = at(t);
    const double dither = t % 3 - 1;
    const auto set = [&](channel c, double value) {
      if (!without.contains(c)) x.row.indication.set(c, value);
    };
    set(channel::stack_temp, values.stack + 0.2 * dither);
    set(channel::ambient_temp, 293.15);
    set(channel::o2, values.o2 + 0.0002 * dither);
    set(channel::co, values.co + 1e-6 * dither);
    v.add(x);
  }
}

inline settled_reading settled(int declared, int to, row values, channel_set without = {}) {
  settled_reading r;
  r.declared = at(declared);
  r.from = at(declared - 60);
  r.to = at(to);
  r.last_seen = at(to);
  r.ended = cause::departed;
  const auto set = [&](channel c, double mean, double u) {
    if (without.contains(c)) return;
    channel_reading x;
    x.mean = mean;
    x.standard_uncertainty = u;
    x.degrees_of_freedom = 40;
    r.channels.set(c, x);
  };
  set(channel::stack_temp, values.stack, 0.3);
  set(channel::ambient_temp, 293.15, 0.1);
  set(channel::o2, values.o2, 0.0003);
  set(channel::co, values.co, 0.4e-6);
  return r;
}

inline void add_phase(visit& v, int t, phase to) {
  phase_change p;
  p.at = at(t);
  p.to = to;
  v.add(p);
}

inline void say(visit& v, int t, std::string_view text) { v.add(note{0, at(t), text}); }

/// Two settled readings with a move and a spot between; `without`: as above.
inline visit two_readings(channel_set without = {}, std::string_view move = "adjusted air") {
  visit v = empty();
  const row before{520, 0.045, 30e-6}, after{540, 0.060, 10e-6};
  add_phase(v, 0, phase::appliance_warm_up);
  add_rows(v, 0, 500, before, without);
  add_phase(v, 200, phase::steady);
  v.add(settled(200, 500, before, without));
  say(v, 480, "smoke 2");
  say(v, 505, move);
  add_phase(v, 510, phase::disturbed);
  add_rows(v, 500, 1000, after, without);
  add_phase(v, 700, phase::steady);
  v.add(settled(700, 1000, after, without));
  say(v, 990, "smoke trace");
  return v;
}

}  // namespace stilling::gathered_visit
