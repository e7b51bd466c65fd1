// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#pragma once

// The appliance: an oil burner, its heat exchanger and its chimney, as simple physics.
//
// * Dry O2 and CO2 from the air ratio by stoichiometry of CHx.
// * CO as a U-shaped function of the air ratio, with a spike at ignition and more from a cold
//   chamber.
// * Flame temperature from the energy balance; exit temperature from transfer units (convection,
//   flame radiation) against walls of two masses, a quick and a slow one; a gas path with its lag.
// * Draft from the chimney's buoyancy, held by a barometric regulator.
//
// Kelvin, pascal (gauge), volume fraction of dry gas, second. Numbers of the appliance are
// judgement (residential burners, common practice), not measurements.

#include "elementary.hpp"

namespace stilling::invented {

inline constexpr double air_oxygen = 0.20946;  ///< dry air, 40 CFR 1065.655

struct flue_gas {
  double stack_k = 293.0;
  double ambient_k = 293.0;
  double o2 = air_oxygen;
  double co2 = 0.0;
  double co = 0.0;
  double breech_pa = 0.0;    ///< gauge; suction is negative
  double overfire_pa = 0.0;  ///< gauge; suction is negative
};

/// Complete combustion of one mol CHx with `air_ratio` times the air it needs: dry gas.
flue_gas dry_products(double air_ratio, double hydrogen_per_carbon) noexcept;

struct appliance {
  double hydrogen_per_carbon = 1.80;  ///< No. 2 diesel, 40 CFR 1065.655 Table 1
  double air_ratio = 1.30;            ///< with the shutter where it is found
  // heat
  double convective_units = 1.85;  ///< transfer units at full fire and air ratio 1.3
  double radiative_units = 0.45;   ///< the same for a flame of 2000 K
  double gas_path_s = 40.0;        ///< lining, passages and connector, as the gas feels them
  double shell_rise_k = 40.0;      ///< quick mass above slow mass at full fire
  double shell_s = 90.0;
  double mass_rise_k = 15.0;  ///< slow mass above what it heats, at full fire
  double mass_s = 700.0;
  double load_k = 335.0;  ///< what the slow mass heats: boiler water, house air
  // carbon monoxide, volume fraction
  double co_floor = 8e-6;
  double co_rich = 250e-6;  ///< at air ratio `co_rich_at`, falls off within `co_rich_width`
  double co_rich_at = 1.10;
  double co_rich_width = 0.035;
  double co_lean = 60e-6;  ///< added at 0.2 above `co_lean_at`, as the square
  double co_lean_at = 1.55;
  double co_cold = 25e-6;  ///< added while the chamber is cold
  double chamber_s = 80.0;
  double ignition_spike = 300e-6;
  double ignition_spike_s = 8.0;
  // draft
  double chimney_m = 7.0;
  double chimney_s = 150.0;
  double regulator_pa = 11.0;     ///< suction at the breech that opens the regulator
  double overfire_loss_pa = 5.0;  ///< between fire and breech at full flow
  double draft_on_air = 0.02;     ///< relative change of the air ratio per relative change of draft
};

/// What someone or something does to the appliance at this instant.
struct controls {
  bool firing = false;
  double fire = 1.0;        ///< firing rate, share of full fire
  double air_change = 0.0;  ///< relative change of the air ratio by shutter, swing, wander, ramp
  double ambient_k = 293.0;
  double gust_pa = 0.0;        ///< wind at the chimney's top, added to its pull
  double regulator_pa = 0.0;   ///< change of the regulator's setting
  double stack_shift_k = 0.0;  ///< slow change of the exchanger (soot), as the gas feels it
  double co_added = 0.0;       ///< from a nozzle that fouls, a flame that touches
};

class plant {
 public:
  /// `warm` 0: everything at ambient; 1: the slow mass at its load, as after a recent burn.
  /// Stepped every `dt` s.
  plant(const appliance&, double ambient_k, double warm, double dt);
  void advance(const controls&) noexcept;
  const flue_gas& gas() const noexcept { return gas_; }
  double air_ratio() const noexcept { return air_ratio_; }

 private:
  struct lags {
    lags(const appliance&, double dt);
    lag gas_path, gas_path_idle, shell, mass, mass_idle, chamber, chamber_idle;
    lag chimney, damper, flush_idle;
  };
  double exit_temperature(const controls&) const noexcept;
  double carbon_monoxide() const noexcept;
  void pull(const controls&) noexcept;
  void breathe(const controls&) noexcept;

  appliance made_;
  lags lags_;
  double dt_;
  flue_gas gas_;
  double idle_k_, mass_k_, shell_k_, chimney_k_;
  double air_ratio_;
  double chamber_ = 0.0;  ///< 0 cold, 1 at its working temperature
  double burning_for_s_ = 0.0;
  double relief_pa_ = 0.0;  ///< what the regulator takes off the chimney's pull
};

}  // namespace stilling::invented
