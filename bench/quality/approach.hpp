// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#pragma once

// Invented approaches, ramps and departures of a stack temperature whose true rate is known at
// every moment. An approach is one exponential, or two, towards a final value; a ramp never
// settles; a departure is a level that is left. All are sampled unevenly, with lost rows,
// correlated noise and a display of whole degF. Temperature in degF, time in seconds, rates in
// degF/min: the units the limit is spoken in. The ranges drawn from are judgement, not measurements
// of any appliance.

#include <cmath>
#include <cstddef>
#include <cstdint>
#include <string>
#include <vector>

#include "simulate/chance.hpp"

namespace stilling::scoreboard {

inline constexpr double limit = 3;  // degF/min
inline double display_step = 1;  // degF; one program, one display

struct sample {
  double t = 0;  // s; the first may lie below 0 by its jitter
  double y = 0;  // degF as displayed
};

/// The noise-free course: start + A (1 - e^(-t/tau)) + B (1 - e^(-t/tau2)) + ramp t, and from
/// `leaves_at` on, if it is left, another exponential and another ramp.
struct course {
  double start = 70, rise = 0, tau = 1, slow_rise = 0, slow_tau = 1;
  double ramp = 0;  // degF/min
  double leaves_at = 1e9, leaves_by = 0, leaves_tau = 1, leaves_ramp = 0;
  double length = 0;
  std::vector<sample> rows;

  [[nodiscard]] double value(double t) const {
    const double gone = t > leaves_at ? t - leaves_at : 0;
    return start + rise * (1 - invented::exponential(-t / tau)) +
           slow_rise * (1 - invented::exponential(-t / slow_tau)) + ramp / 60 * t +
           leaves_by * (1 - invented::exponential(-gone / leaves_tau)) + leaves_ramp / 60 * gone;
  }
  /// Where an approach ends.
  [[nodiscard]] double final_value() const { return start + rise + slow_rise; }
  /// degF/min
  [[nodiscard]] double rate(double t) const {
    return 60 * (rise / tau * invented::exponential(-t / tau) +
                 slow_rise / slow_tau * invented::exponential(-t / slow_tau)) + ramp;
  }
  /// How far it still has to go; of an approach.
  [[nodiscard]] double remaining(double t) const {
    return rise * invented::exponential(-t / tau) +
           slow_rise * invented::exponential(-t / slow_tau);
  }
  /// From when the rate is within the limit for good: the rate of an approach only falls.
  [[nodiscard]] double settled_at() const {
    double moving = 0, settled = length;
    for (int i = 0; i < 60; ++i) {
      const double middle = (moving + settled) / 2;
      (rate(middle) > limit ? moving : settled) = middle;
    }
    return settled;
  }
};

struct sampling {
  double dt = 1;
  double jitter = 0.2;   // each stamp is moved by up to so many dt
  double dropped = 0.02;
};

/// Rows of `c`: noise is first-order autoregressive in continuous time, stationary from the first
/// stamp on.
inline void sample_course(course& c, const sampling& s, double sigma, double noise_time,
                          invented::chance& draw) {
  double noise = draw.normal(), before = 0;
  const auto count = static_cast<std::size_t>(std::ceil(c.length / s.dt));
  for (std::size_t i = 0; i < count; ++i) {
    const double t = (static_cast<double>(i) + draw.uniform(-s.jitter, s.jitter)) * s.dt;
    if (i > 0) {
      const double phi =
          noise_time > 0 ? invented::exponential(-(t - before) / noise_time) : 0;
      noise = phi * noise + std::sqrt(1 - phi * phi) * draw.normal();
    }
    before = t;
    const bool lost = draw.happens(s.dropped);
    const double shown = std::floor((c.value(t) + sigma * noise) / display_step + 0.5);
    if (!lost) c.rows.push_back({t, shown * display_step});
  }
}

inline void sample_as_drawn(course& c, invented::chance& draw) {
  const double dt = draw.pick({1.0, 2.0, 5.0});
  const double sigma = draw.pick({0.3, 1.0, 2.0});
  const double noise_time = draw.pick({0.0, 5.0, 15.0});
  sample_course(c, {dt}, sigma, noise_time, draw);
}

/// 45 minutes from a cold flue.
inline course invented_approach(std::uint64_t seed) {
  auto draw = invented::chance{seed, "approach"};
  course c;
  c.length = 2700;
  c.rise = draw.uniform(200, 450);
  c.tau = draw.uniform(60, 240);
  if (draw.happens(0.5)) {
    c.slow_rise = draw.uniform(10, 60);
    c.slow_tau = draw.uniform(400, 1000);
  }
  sample_as_drawn(c, draw);
  return c;
}

/// 14 minutes of one constant rate.
inline course invented_ramp(std::uint64_t seed, double degf_per_minute) {
  auto draw = invented::chance{seed, "ramp " + std::to_string(degf_per_minute)};
  course c;
  c.length = 840;
  c.start = 300;
  c.ramp = degf_per_minute;
  sample_as_drawn(c, draw);
  return c;
}

/// A level of ten to fifteen minutes that is left, up or down: half of them as a turn of the air
/// leaves it, for another level, half of them for good.
inline course invented_departure(std::uint64_t seed) {
  auto draw = invented::chance{seed, "departure"};
  course c;
  c.start = draw.uniform(300, 600);
  c.leaves_at = draw.uniform(600, 900);
  c.length = c.leaves_at + 300;
  if (draw.happens(0.5)) {
    c.leaves_by = draw.sign() * draw.uniform(10, 60);
    c.leaves_tau = draw.uniform(20, 120);
  } else {
    c.leaves_ramp = draw.sign() * draw.uniform(6, 40);
  }
  sample_as_drawn(c, draw);
  return c;
}

/// A finished warm-up log: one exponential, 25 minutes at 1 Hz, nothing lost.
inline course invented_warm_up(std::uint64_t seed) {
  auto draw = invented::chance{seed, "warm-up"};
  course c;
  c.length = 1500;
  c.rise = draw.uniform(200, 450);
  c.tau = draw.uniform(60, 240);
  const double sigma = draw.pick({0.3, 1.0, 2.0});
  const double noise_time = draw.pick({0.0, 5.0, 15.0});
  sample_course(c, {1, 0, 0}, sigma, noise_time, draw);
  return c;
}

}  // namespace stilling::scoreboard
