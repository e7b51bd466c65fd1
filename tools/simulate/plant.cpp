// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#include "plant.hpp"

#include <algorithm>

#include "elementary.hpp"

namespace stilling::invented {
namespace {

constexpr double kg_air_per_kg_fuel = 14.5;  // CH1.80
constexpr double heating_value = 42.8e6;     // J/kg, lower, from memory
constexpr double heat_capacity = 1300.0;     // J/(kg K), products at flame temperature, from memory
constexpr double flame_reference_k = 2000.0;
constexpr double reference_air_ratio = 1.30;
constexpr double flush_firing_s = 3.0;  // the flue passages change their gas
constexpr double flush_idle_s = 14.0;
constexpr double damper_s = 4.0;     // the regulator's flap is slower than a gust
constexpr double buoyancy = 3462.0;  // Pa K/m: 9.81 m/s2 times 353 kg K/m3 (ideal gas)

double mass_flow(double fire, double air_ratio) {
  return fire * (1.0 + kg_air_per_kg_fuel * air_ratio) /
         (1.0 + kg_air_per_kg_fuel * reference_air_ratio);
}

}  // namespace

flue_gas dry_products(double air_ratio, double hydrogen_per_carbon) noexcept {
  // CHx + (1 + x/4) O2 -> CO2 + x/2 H2O, per mol of carbon
  const auto oxygen_needed = 1.0 + hydrogen_per_carbon / 4.0;
  const auto air = oxygen_needed * air_ratio / air_oxygen;
  const auto dry = air - oxygen_needed + 1.0;  // O2 used up is replaced by CO2; water is dried out
  auto gas = flue_gas{};
  gas.o2 = oxygen_needed * (air_ratio - 1.0) / dry;
  gas.co2 = 1.0 / dry;
  return gas;
}

plant::lags::lags(const appliance& made, double dt)
    : gas_path{made.gas_path_s, dt},
      gas_path_idle{1.6 * made.gas_path_s, dt},
      shell{made.shell_s, dt},
      mass{made.mass_s, dt},
      mass_idle{3.0 * made.mass_s, dt},
      chamber{made.chamber_s, dt},
      chamber_idle{4.0 * made.chamber_s, dt},
      chimney{made.chimney_s, dt},
      damper{damper_s, dt},
      flush_idle{flush_idle_s, dt} {}

plant::plant(const appliance& made, double ambient_k, double warm, double dt)
    : made_{made},
      lags_{made, dt},
      dt_{dt},
      idle_k_{ambient_k + warm * (made.load_k - ambient_k)},
      mass_k_{idle_k_},
      shell_k_{idle_k_},
      chimney_k_{ambient_k + 0.3 * (idle_k_ - ambient_k)},
      air_ratio_{made.air_ratio} {
  gas_.ambient_k = ambient_k;
  gas_.stack_k = ambient_k + 0.7 * (idle_k_ - ambient_k);
}

double plant::exit_temperature(const controls& now) const noexcept {
  if (!now.firing) return now.ambient_k + 0.7 * (shell_k_ - now.ambient_k);
  const auto flame_rise = heating_value / ((1.0 + kg_air_per_kg_fuel * air_ratio_) * heat_capacity);
  const auto flow = mass_flow(now.fire, air_ratio_);
  const auto hotness = (now.ambient_k + flame_rise) / flame_reference_k;
  const auto units = made_.convective_units * power(flow, -0.3) +
                     made_.radiative_units * hotness * hotness * hotness / flow;
  const auto kept = exponential(-units);
  return now.ambient_k + flame_rise * kept + (1.0 - kept) * (shell_k_ - now.ambient_k) +
         now.stack_shift_k;
}

double plant::carbon_monoxide() const noexcept {
  const auto rich =
      made_.co_rich * exponential(-(air_ratio_ - made_.co_rich_at) / made_.co_rich_width);
  const auto lean = std::max(0.0, (air_ratio_ - made_.co_lean_at) / 0.2);
  return made_.co_floor + std::min(rich, 0.01) + made_.co_lean * lean * lean +
         made_.co_cold * (1.0 - chamber_) +
         made_.ignition_spike * decay(burning_for_s_, made_.ignition_spike_s);
}

void plant::pull(const controls& now) noexcept {
  const auto mean_rise = 0.6 * (gas_.stack_k - now.ambient_k);
  chimney_k_ = lags_.chimney(chimney_k_, now.ambient_k + mean_rise);
  const auto natural =
      buoyancy * made_.chimney_m * (1.0 / now.ambient_k - 1.0 / chimney_k_) + now.gust_pa;
  const auto setting = made_.regulator_pa + now.regulator_pa;
  relief_pa_ = lags_.damper(relief_pa_, 0.88 * std::max(0.0, natural - setting));
  const auto held = natural - relief_pa_;
  const auto flow = now.firing ? mass_flow(now.fire, air_ratio_) : 0.15;
  gas_.breech_pa = -held;
  gas_.overfire_pa = -(held - made_.overfire_loss_pa * flow * flow);
}

void plant::breathe(const controls& now) noexcept {
  const auto draft = std::clamp(-gas_.breech_pa / made_.regulator_pa - 1.0, -1.0, 3.0);
  air_ratio_ = made_.air_ratio * (1.0 + now.air_change) * (1.0 + made_.draft_on_air * draft) *
               293.15 / now.ambient_k;
  air_ratio_ = std::max(1.005, air_ratio_);
}

void plant::advance(const controls& now) noexcept {
  burning_for_s_ = now.firing ? burning_for_s_ + dt_ : 0.0;
  gas_.ambient_k = now.ambient_k;
  pull(now);
  breathe(now);
  if (now.firing) {
    chamber_ = lags_.chamber(chamber_, 1.0);
    mass_k_ = lags_.mass(mass_k_, made_.load_k + made_.mass_rise_k * now.fire);
    shell_k_ = lags_.shell(shell_k_, mass_k_ + made_.shell_rise_k * now.fire);
    const auto made = dry_products(air_ratio_, made_.hydrogen_per_carbon);
    const auto flush = lag{flush_firing_s / std::max(0.2, now.fire), dt_};
    gas_.o2 = flush(gas_.o2, made.o2);
    gas_.co2 = flush(gas_.co2, made.co2);
    gas_.co = flush(gas_.co, carbon_monoxide() + now.co_added);
    gas_.stack_k = lags_.gas_path(gas_.stack_k, exit_temperature(now));
  } else {
    chamber_ = lags_.chamber_idle(chamber_, 0.0);
    mass_k_ = lags_.mass_idle(mass_k_, idle_k_);
    shell_k_ = lags_.shell(shell_k_, mass_k_);
    gas_.o2 = lags_.flush_idle(gas_.o2, air_oxygen);
    gas_.co2 = lags_.flush_idle(gas_.co2, 0.0);
    gas_.co = lags_.flush_idle(gas_.co, 0.0);
    gas_.stack_k = lags_.gas_path_idle(gas_.stack_k, exit_temperature(now));
  }
}

}  // namespace stilling::invented
