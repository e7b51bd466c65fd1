// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#pragma once

// What the instrument makes of the gas: probe and sample line, cells, thermocouple, gauges, their
// errors of zero and span with warm-up and drift; then noise and display.
//
// `sensed` is free of noise; it is what the truth is taken from. Units here are those of the
// display, one lane per channel: degF, degF, % O2, ppm CO, inH2O, inH2O.

#include <array>
#include <cstddef>
#include <string_view>
#include <vector>

#include "chance.hpp"
#include "plant.hpp"

namespace stilling::invented {

enum channel : std::size_t { stack, ambient, oxygen, monoxide, breech, overfire };
inline constexpr std::size_t channel_count = 6;
using lanes = std::array<double, channel_count>;

inline constexpr std::array<std::string_view, channel_count> columns = {
    "stack_temp_degF", "ambient_temp_degF",  "o2_pct",
    "co_ppm",          "draft_breech_inH2O", "draft_overfire_inH2O"};

lanes in_display_units(const flue_gas&) noexcept;

/// One digit step of a display: `units` of the last of `decimals` decimals (5, 1 is 0.5).
struct display_step {
  int units = 1;
  int decimals = 0;
  double size() const noexcept;
};

struct calibration {
  lanes zero{};
  lanes span{};         ///< relative
  lanes drift_per_h{};  ///< of zero
  lanes span_per_h{};   ///< of span, relative
  lanes warm_up{};      ///< offset at switch-on
  lanes warm_up_s{};    ///< its time constant
};

struct noise_make {
  lanes white{};
  lanes correlated{};
  lanes correlation_s{};
  lanes of_reading{};        ///< white, relative to the reading
  double heavy_share = 0.0;  ///< share of draws of five times the spread
  double spike_share = 0.0;  ///< share of cells with a lone spike
};

struct instrument_make {
  double delay_s = 5.0;
  double mixing_s = 2.0;  ///< filter and water trap
  double o2_s = 6.0;
  double co_s = 14.0;
  double co_tail_share = 0.0;  ///< of the cell's response that comes late
  double co_tail_s = 80.0;
  double thermocouple_s = 4.0;
  double thermocouple_loss = 0.01;  ///< share of the rise lost by radiation and conduction
  double gauge_s = 1.0;
  double ambient_s = 30.0;
  double dilution_on_stack = 0.6;  ///< how much of a dilution the thermocouple feels
  calibration errors;
  noise_make noise;
  std::array<display_step, channel_count> display = {
      {{1, 0}, {1, 0}, {1, 1}, {1, 0}, {1, 3}, {1, 3}}};
};

class instrument {
 public:
  instrument(const instrument_make&, const flue_gas& room, double dt);
  /// One step of `dt` s. `dilution` 0: the probe sits well, 1: it is in the room; `on_s`: since
  /// switch-on.
  void advance(const flue_gas&, double dilution, double on_s);
  const lanes& sensed() const noexcept { return sensed_; }

 private:
  struct sample {
    double o2, co;
  };
  instrument_make made_;
  lag mixing_lag_, o2_lag_, co_lag_, co_late_lag_, stack_lag_, ambient_lag_, gauge_lag_;
  std::vector<sample> line_;
  std::size_t newest_ = 0;
  sample mixed_;
  double o2_, co_quick_, co_late_, stack_k_, ambient_k_, breech_, overfire_;
  lanes sensed_{};
};

/// Noise at the instants of the rows: continuous in time, whatever the spacing.
class noise {
 public:
  noise(const noise_make&, double scale, chance stream);
  lanes at(double time_s, const lanes& sensed);

 private:
  noise_make made_;
  double scale_;
  chance stream_;
  double last_s_ = 0.0;
  bool begun_ = false;
  lanes state_{};
};

}  // namespace stilling::invented
