// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#pragma once

// The script of one invented test: who and what takes part, and what happens when.
// Times are plant seconds; 0 is the log's first second.

#include <string>
#include <string_view>
#include <vector>

#include "instrument.hpp"
#include "plant.hpp"

namespace stilling::invented {

enum class deed {
  probe_in,
  probe_out,
  probe_bumped,    ///< amount: share of room air; lasting: s the slip takes
  probe_restored,  ///< lasting: s the seat takes to close
  ignition,
  burner_off,
  air_shutter,      ///< amount: relative change of the lever, before its play
  draft_regulator,  ///< amount: change of the setting, Pa
  stage_change,     ///< amount: new firing rate, share of full fire
  flame_failure,
};
std::string_view word(deed) noexcept;

struct happening {
  double at_s;
  deed what;
  double amount = 0.0;
  double lasting_s = 0.0;
};

enum class wave { sine, triangle, relay };

/// A periodic swing of air and fire: hunting.
struct swing {
  double from_s, to_s;
  int period_s;
  double air, fire;  ///< relative amplitudes
  wave shape;
};

/// Slow irregular movement of the air ratio, first order with one correlation time.
struct wander {
  double from_s, to_s;
  double correlation_s;
  double air;  ///< relative spread
};

/// Constant change per second from one moment to another, kept afterwards.
struct ramp {
  enum class what { stack, air, monoxide, ambient } of;  ///< K, relative, ppm, K
  double from_s, to_s;
  double per_s;
};

struct gust {
  double at_s, lasting_s, pascal;
};

struct fault {
  enum class kind {
    sensor_stuck,
    blank_cells,
    rows_missing,
    spike_burst,
    rows_repeated,
    clock_jump
  };
  kind what;
  double from_s, to_s;
  channel on = stack;
  double amount =
      0.0;  ///< clock_jump: s added to the clock; spike_burst: size, steps of the display
};
std::string_view word(fault::kind) noexcept;

struct remark {
  double at_s;
  std::string text;
};

struct sampling {
  double interval_s = 1.0;
  double jitter = 0.0;  ///< uniform, share of the interval
  double lost = 0.0;    ///< share of rows that never arrive
  int stamp_decimals = 1;
  long long origin_s = 0;  ///< what the clock shows at the log's start
};

struct test_plan {
  appliance burner;
  instrument_make analyzer;
  sampling rows;
  double ambient_k = 293.0;
  double warm = 0.0;
  double shutter_play = 0.0;  ///< relative; the air follows its lever only beyond this
  double lead_s = 0.0;        ///< the appliance runs this long before the log begins
  bool probe_starts_in = false;
  double instrument_on_s = 30.0;  ///< since switch-on when the log begins
  double duration_s = 0.0;
  std::vector<happening> happenings;
  std::vector<swing> swings;
  std::vector<wander> wanders;
  std::vector<ramp> ramps;
  std::vector<gust> gusts;
  std::vector<fault> faults;
  std::vector<remark> remarks;
};

}  // namespace stilling::invented
