// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#pragma once

#include "stilling/combustion/derived.hpp"
#include "stilling/combustion/draft.hpp"
#include "stilling/combustion/evidence.hpp"
#include "stilling/combustion/fuel_table.hpp"
#include "stilling/combustion/losses.hpp"
#include "stilling/combustion/published.hpp"
#include "stilling/combustion/water.hpp"
#include "stilling/estimators/uncertainty.hpp"
#include "stilling/items/reading.hpp"
#include "stilling/terms/channel.hpp"

/// derive(): from what was read to the combustion figures, each with its standard uncertainty and
/// the formula that made it, or the reason why there is none. A function: it remembers nothing.
///
///   const combustion y = derive(reading, *find_fuel("no2_oil"));
///   if (const derived& e = y[figure::efficiency_gross]) … e->value, e->standard_uncertainty …
///   else … words_of(e.error()) …
namespace stilling {

/// Figures from readings typed by hand or taken anywhere: per channel a value and its standard
/// uncertainty, in kelvin, mol/mol dry, pascal. O2 leads where both O2 and CO2 are there, but for
/// App. O, which asks for CO2.
[[nodiscard]] inline combustion derive(const lanes<estimate>& in, const fuel& of,
                                       const derive_options& how = {}) noexcept;

/// The same readings, less well known by what the instrument's specification leaves open.
[[nodiscard]] constexpr lanes<estimate> with_instrument(
    lanes<estimate> in, const lanes<instrument_error>& specified) noexcept {
  for (const auto c : all_channels) {
    if (!in.has(c) || !specified.has(c)) continue;
    const auto& x = in[c];
    const auto both = combine({{x.standard_uncertainty}, specified[c].of(x.value)});
    in.set(c, {x.value, both.standard});
  }
  return in;
}

/// Figures of a settled reading: the uncertainty of its means, and that of the instrument where
/// one is given, enter as independent parts.
[[nodiscard]] inline combustion derive(const settled_reading& r, const fuel& of,
                                       const derive_options& how = {}) noexcept {
  lanes<estimate> in;
  for (const auto c : all_channels) {
    if (!r.channels.has(c)) continue;
    const auto& read = r.channels[c];
    in.set(c, {read.mean, read.standard_uncertainty});
  }
  return derive(with_instrument(in, how.instrument), of, how);
}

namespace deriving {

inline void give(combustion& y, figure f, formula with, const evidence::quantity& q) noexcept {
  if (q) y.give(f, with, *q);
  else y.withhold(f, q.error());
}

inline void give_gases(combustion& y, const evidence& e) noexcept {
  const bool atoms = e.by_composition();
  if (e.has(channel::o2)) y.withhold(figure::o2, undefined::oxygen_measured);
  else give(y, figure::o2, atoms ? formula::composition_o2 : formula::f_factor_o2, e.o2);
  if (e.has(channel::co2)) y.withhold(figure::co2, undefined::co2_measured);
  else give(y, figure::co2, atoms ? formula::composition_co2 : formula::f_factor_co2, e.co2);

  if (e.atoms) {
    y.give(figure::fuel_factor_expected, formula::composition_factor,
           published::fuel_factor(uncertain{0.0}, co2_maximum(*e.atoms)));
  } else if (e.of().factors) {
    y.give(figure::fuel_factor_expected, formula::f_factor_factor,
           uncertain{published::fuel_factor(0.0, published::co2_maximum(*e.of().factors))});
  } else {
    y.withhold(figure::fuel_factor_expected, e.atoms.error());
  }
  if (!e.has(channel::o2) || !e.has(channel::co2)) {
    y.withhold(figure::fuel_factor, undefined::one_gas_only);
  } else if (!e.below_air) {
    y.withhold(figure::fuel_factor, e.below_air.error());
  } else if (!(e.inputs()[channel::co2].value >= least_co2)) {
    y.withhold(figure::fuel_factor, undefined::co2_near_zero);
  } else {
    y.give(figure::fuel_factor, formula::method_3b_factor,
           published::fuel_factor(*e.below_air, e.read(channel::co2)));
  }
}

inline void give_air(combustion& y, const evidence& e) noexcept {
  if (!e.below_air) {
    return losses::withhold(y, {figure::excess_air, figure::air_ratio, figure::co_air_free},
                            e.below_air.error());
  }
  const uncertain& o2 = *e.below_air;
  y.give(figure::excess_air, formula::short_excess_air, published::excess_air(o2));
  y.give(figure::air_ratio, formula::short_air_ratio, published::air_ratio(o2));
  if (e.co) {
    y.give(figure::co_air_free, formula::short_co_air_free, published::co_air_free(*e.co, o2));
  } else {
    y.withhold(figure::co_air_free, e.co.error());
  }
}

inline void give_balance(combustion& y, const evidence& e) noexcept {
  y.give(figure::co_counted, e.co ? formula::co_as_read : formula::co_left_out, e.co_counted());
  if (!e.gas) {
    return losses::withhold(y,
                            {figure::excess_air_exact, figure::air_moisture,
                             figure::theoretical_air, figure::dry_flue_gas, figure::dry_air,
                             figure::water_vapour, figure::vapour_pressure, figure::dew_point},
                            e.gas.error());
  }
  const auto& gas = *e.gas;
  const uncertain theoretical = theoretical_air(*e.atoms);
  const uncertain vapour = e.pressure() * gas.moisture();
  y.give(figure::theoretical_air, formula::stoichiometric_air, theoretical);
  y.give(figure::dry_flue_gas,
         e.has(channel::o2) ? formula::dry_gas_from_o2 : formula::dry_gas_from_co2, gas.dry);
  y.give(figure::dry_air, formula::air_balance, gas.air);
  y.give(figure::excess_air_exact, formula::exact_excess_air, gas.air / theoretical - 1.0);
  y.give(figure::air_moisture, y.humidity ? formula::humid_air : formula::dry_air_assumed,
         *e.moisture);
  y.give(figure::water_vapour, formula::water_balance, gas.h2o);
  y.give(figure::vapour_pressure, formula::partial_pressure, vapour);
  if (vapour.value > water::lowest_pressure) {
    y.give(figure::dew_point, formula::saturation, water::saturation_temperature(vapour));
  } else {
    y.withhold(figure::dew_point, undefined::temperature_out_of_range);
  }
}

inline void give_chimney(combustion& y, const evidence& e) noexcept {
  if (!y.flue) return;  // not asked for
  if (!e.has(channel::stack_temp)) {
    return y.withhold(figure::draft_theoretical, undefined::stack_temp_absent);
  }
  const auto& range = traits_of(channel::stack_temp);
  const auto fits = [&](double t) { return t >= range.lowest && t <= range.highest; };
  if (!fits(y.flue->outdoor.value) || !fits(e.inputs()[channel::stack_temp].value)) {
    return y.withhold(figure::draft_theoretical, undefined::temperature_out_of_range);
  }
  y.give(figure::draft_theoretical, formula::ideal_draft,
         draft_of_height(uncertain{y.flue->height, input::chimney_height},
                         uncertain{y.flue->outdoor, input::outdoor_temp},
                         e.read(channel::stack_temp), e.pressure(), molar_mass::dry_air));
}

inline void give_draft(combustion& y, const evidence& e) noexcept {
  give_chimney(y, e);
  if (!e.has(channel::draft_breech) || !e.has(channel::draft_overfire)) {
    return y.withhold(figure::draft_difference, undefined::draft_absent);
  }
  y.give(figure::draft_difference, formula::draft_subtraction,
         e.read(channel::draft_breech) - e.read(channel::draft_overfire));
}

}  // namespace deriving

inline combustion derive(const lanes<estimate>& in, const fuel& of,
                         const derive_options& how) noexcept {
  const evidence e{in, of, how};
  combustion y;
  y.by = how.by;
  y.inputs = e.inputs();
  y.humidity = how.humidity;
  y.barometer = how.barometer;
  y.flue = how.flue;
  deriving::give(y, figure::net_stack_temp, formula::net_temperature, e.net);
  deriving::give_gases(y, e);
  deriving::give_air(y, e);
  deriving::give_balance(y, e);
  switch (how.by) {
    case method::composition: give_losses_by_composition(y, e); break;
    case method::app_o: give_losses_by_app_o(y, e); break;
    case method::siegert: give_losses_by_siegert(y, e); break;
  }
  deriving::give_draft(y, e);
  return y;
}

}  // namespace stilling
