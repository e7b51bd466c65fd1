// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#pragma once

// Turns the script into what acts on appliance and probe at each instant.

#include <cstddef>
#include <span>
#include <vector>

#include "plan.hpp"

namespace stilling::invented {

class timeline {
 public:
  timeline(const test_plan&, chance wandering, double dt);
  /// Steps to `at_s`; call with rising times.
  void advance(double at_s);
  const controls& now() const noexcept { return now_; }
  double dilution() const noexcept { return dilution_; }
  bool fired_undiluted() const noexcept { return now_.firing && dilution_ < 0.002; }

 private:
  void apply(const happening&);
  void move_shutter();
  void move_probe();

  const test_plan* plan_;
  chance wandering_;
  double dt_;
  std::vector<happening> due_;
  std::size_t next_ = 0;
  std::vector<double> wander_state_;
  controls now_;
  double stage_ = 1.0, burning_rate_ = 1.0;
  double lever_ = 0.0, shutter_ = 0.0;
  double dilution_ = 1.0, dilution_goal_ = 1.0, dilution_per_s_ = 1e9;
};

}  // namespace stilling::invented
