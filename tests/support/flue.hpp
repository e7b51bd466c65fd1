// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#pragma once

// What a test of the judging stages starts from: an invented appliance at rest as frames, noise
// that is the same on every machine, and an ear that keeps all that is said.

#include <cmath>
#include <cstddef>
#include <cstdint>
#include <optional>
#include <string>
#include <vector>

#include "stilling/session.hpp"

namespace stilling::invented {

/// Bell-shaped enough: the sum of twelve uniform draws, standard deviation 1.
class noise {
 public:
  explicit noise(std::uint64_t seed) : state_{seed * 0x9e3779b97f4a7c15U + 1} {}
  double operator()() {
    double sum = 0;
    for (int i = 0; i < 12; ++i) {
      state_ = state_ * 6364136223846793005U + 1442695040888963407U;
      sum += static_cast<double>(state_ >> 40) / 16777216.0;
    }
    return sum - 6;
  }

 private:
  std::uint64_t state_;
};

/// Noise that leans on the value before it by `rho`; standard deviation 1.
class slow_noise {
 public:
  slow_noise(std::uint64_t seed, double rho)
      : draw_{seed}, rho_{rho}, fresh_{std::sqrt(1 - rho * rho)}, x_{draw_()} {}
  double operator()() { return x_ = rho_ * x_ + fresh_ * draw_(); }

 private:
  noise draw_;
  double rho_, fresh_, x_;
};

inline instant at(double seconds) { return instant{*duration_from_seconds(seconds)}; }
inline double when(instant t) { return in_seconds(t.time_since_epoch()); }

// In canonical units: what one minute may bring, by common practice (see rate_limits).
inline constexpr double degree_f = 1 / 1.8;
inline constexpr double stack_allowance = 3 * degree_f;
inline constexpr double percent = 0.01, ppm = 1e-6;

/// What the probe sees.
struct flue {
  double stack = 520;     // K
  double ambient = 294;   // K
  double oxygen = 0.05;   // mol/mol
  double monoxide = 20 * ppm;
};
inline constexpr flue fresh_air{294, 294, 0.209, 0};

inline frame row(double t, const flue& f) {
  frame r;
  r.at = at(t);
  r.indication.set(channel::stack_temp, f.stack);
  r.indication.set(channel::ambient_temp, f.ambient);
  r.indication.set(channel::o2, f.oxygen);
  r.indication.set(channel::co, f.monoxide);
  return r;
}
inline frame row(double t, channel c, double x) {
  frame r;
  r.at = at(t);
  r.indication.set(c, x);
  return r;
}

/// A flue that runs quietly with the noise of an ordinary instrument, shown in whole degF, tenths
/// of a percent and whole ppm when `rounded`.
class quiet_flue {
 public:
  explicit quiet_flue(std::uint64_t seed = 1, bool shown_in_steps = false)
      : draw_{seed}, in_steps_{shown_in_steps} {}

  frame operator()(double t, flue mean = {}) {
    mean.stack += 0.3 * draw_();
    mean.oxygen += 0.0003 * draw_();
    mean.monoxide += 0.6 * ppm * draw_();
    if (in_steps_) {
      mean.stack = (std::round(mean.stack * 1.8 - 459.67) + 459.67) / 1.8;
      mean.ambient = (std::round(mean.ambient * 1.8 - 459.67) + 459.67) / 1.8;
      mean.oxygen = std::round(mean.oxygen * 1000) / 1000;
      mean.monoxide = std::round(mean.monoxide * 1e6) / 1e6;
    }
    return row(t, mean);
  }

 private:
  noise draw_;
  bool in_steps_;
};

/// Frames through screen, steadiness, fire, phase and plateau; everything said is kept.
class judged {
 public:
  explicit judged(const session_settings& s = {})
      : chain_{make_judge(s) | plateau<>{s.plateau}}, tap_{make_judge(s)} {}

  const verdict& push(const frame& f) {
    chain_.push(f, hear_);
    tap_.push(f, overloaded{[&](const verdict& v) { verdicts.push_back(v); },
                            [](const auto&) {}});
    return verdicts.back();
  }
  void push(const discontinuity& d) {
    chain_.push(d, hear_);
    tap_.push(d, any_sink{});
  }
  void push(const note& n) {
    chain_.push(n, hear_);
    tap_.push(n, any_sink{});
  }
  void advance(double t) {
    chain_.advance(at(t), hear_);
    tap_.advance(at(t), any_sink{});
  }
  void finish() {
    chain_.finish(hear_);
    tap_.finish(any_sink{});
  }

  [[nodiscard]] bool ever(phase p) const {
    for (const auto& x : phases)
      if (x.to == p) return true;
    return false;
  }
  /// The first time a phase was entered at or after `from`.
  [[nodiscard]] std::optional<double> entered(phase p, double from = 0) const {
    for (const auto& x : phases)
      if (x.to == p && when(x.at) >= from) return when(x.at);
    return std::nullopt;
  }

  std::vector<verdict> verdicts;
  std::vector<phase_change> phases;
  std::vector<burn> burns;
  std::vector<settled_reading> readings;

 private:
  struct ears {
    judged& to;
    void operator()(const phase_change& p) const { to.phases.push_back(p); }
    void operator()(const note&) const {}
    void operator()(const burn& b) const { to.burns.push_back(b); }
    void operator()(const settled_reading& r) const { to.readings.push_back(r); }
    void operator()(const discontinuity&) const {}
  };

  decltype(make_judge(session_settings{}) | plateau<>{plateau_settings{}}) chain_;
  decltype(make_judge(session_settings{})) tap_;
  ears hear_{*this};
};

}  // namespace stilling::invented
