// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#pragma once

// Writes a plan in the words of a visit: draws appliance, instrument and logger; then a cursor
// moves along the test and each verb notes what happens there.
//
// `breadth::plain` draws what a person would call an ordinary visit with a sound instrument;
// `breadth::wide` draws from wide ranges, for tuning and tests. All ranges are judgement.

#include <cstdint>
#include <string>
#include <string_view>

#include "chance.hpp"
#include "plan.hpp"

namespace stilling::invented {

enum class breadth { plain, wide };

class course {
 public:
  course(std::string_view scenario, std::uint64_t seed, breadth);

  // people at the burner
  course& fresh_air(double least_s = 45.0, double most_s = 120.0);
  course& put_probe_in();
  course& pull_probe_out();
  course& pull_probe(double for_least_s, double for_most_s);
  course& slip_probe(double share, double for_s, double reseat_s);
  course& light();
  course& stop_burner();
  /// More air is positive. Turned back where the air ratio would leave 1.1 to 1.8.
  course& turn_shutter(double relative);
  course& set_regulator(double pascal);
  course& change_stage(double fire);
  course& say(std::string text);
  course& repeat_start();  ///< fresh air, probe in, light, warm up

  // time
  course& hold(double least_s, double most_s);
  course& warm_up(double least = 0.9, double most = 1.4);  ///< of what it needs to be steady
  course& end();       ///< burner off, some cooling, probe out in half of the tests
  course& stop_log();  ///< the log ends here

  // what goes wrong
  course& ruin(fault::kind, double from_s, double for_s, channel = stack, double amount = 0.0);
  void hunt(double from_s, double to_s, int period_s, double air, double fire);

  /// Seconds from ignition until the sensed signal would be steady, by running the appliance.
  double settling_s() const;
  double now() const noexcept { return now_; }
  double air_step();  ///< relative change of a shutter move that a person would make, signed
  bool wide() const noexcept { return wide_; }

  chance dice;
  test_plan plan;

 private:
  void draw_burner();
  void draw_instrument();
  void draw_noise();
  void draw_display();
  void draw_logger();
  course& note(deed, double amount = 0.0, double lasting_s = 0.0);

  bool wide_;
  double lever_ = 0.0;
  double now_ = 0.0;
};

}  // namespace stilling::invented
