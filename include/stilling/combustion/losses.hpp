// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#pragma once

#include <initializer_list>
#include <optional>

#include "stilling/combustion/derived.hpp"
#include "stilling/combustion/evidence.hpp"
#include "stilling/combustion/flue_gas.hpp"
#include "stilling/combustion/published.hpp"

/// Heat losses and efficiency, one function per method. Each fills every loss figure: with a value
/// on its own basis, or with the reason why this method has none. Callers want combustion.hpp.
namespace stilling {

namespace losses {

inline void withhold(combustion& y, std::initializer_list<figure> fs, undefined why) noexcept {
  for (const auto f : fs) y.withhold(f, why);
}

/// Loss and efficiency of one basis; never more than the whole.
inline void give_loss(combustion& y, figure loss, formula with, figure efficiency, formula rest,
                         const uncertain& q) noexcept {
  if (!(q.value <= 1)) return withhold(y, {loss, efficiency}, undefined::above_whole);
  y.give(loss, with, q);
  y.give(efficiency, rest, 1.0 - q);
}

[[nodiscard]] inline std::optional<undefined> against_composition(const evidence& e) noexcept {
  if (!e.net) return e.net.error();
  if (!e.gas) return e.gas.error();
  if (!e.of().heating_value) return undefined::heating_value_unknown;
  if (e.inputs()[channel::ambient_temp].value < lowest_temperature ||
      e.inputs()[channel::stack_temp].value > highest_temperature) {
    return undefined::temperature_out_of_range;
  }
  return std::nullopt;
}

}  // namespace losses

/// First principles: sensible heat of what leaves, latent heat of the water the fuel brings or
/// makes (all of it leaves as vapour), heat that CO still holds. The fuel enters at air
/// temperature.
inline void give_losses_by_composition(combustion& y, const evidence& e) noexcept {
  y.withhold(figure::stack_loss_rounded, undefined::other_method);
  if (const auto why = losses::against_composition(e)) {
    return losses::withhold(y,
                            {figure::heat_capacity_dry, figure::heat_capacity_vapour,
                             figure::dry_gas_loss, figure::vapour_loss, figure::latent_loss,
                             figure::co_loss, figure::stack_loss_gross, figure::stack_loss_net,
                             figure::efficiency_gross, figure::efficiency_net},
                            *why);
  }
  const auto& gas = *e.gas;
  const uncertain cold = e.read(channel::ambient_temp), hot = e.read(channel::stack_temp);
  const uncertain gross{*e.of().heating_value, input::fuel_heating_value};
  const uncertain in_dry_gas = dry_sensible_heat(gas, cold, hot);
  const uncertain rise = enthalpy_rise(species::h2o, cold, hot);
  y.give(figure::heat_capacity_dry, formula::mean_heat_capacity_dry,
         in_dry_gas / (gas.dry * *e.net));
  y.give(figure::heat_capacity_vapour, formula::mean_heat_capacity_vapour, rise / *e.net);

  const uncertain in_vapour = gas.h2o * rise, latent = latent_heat_of(*e.atoms);
  const uncertain in_co = gas.co * heat_of_combustion_of_co;  // 0 where none was read
  y.give(figure::dry_gas_loss, formula::composition_dry_gas, in_dry_gas / gross);
  y.give(figure::vapour_loss, formula::composition_vapour, in_vapour / gross);
  y.give(figure::latent_loss, formula::composition_latent, latent / gross);
  if (e.co) y.give(figure::co_loss, formula::composition_co, in_co / gross);
  else y.withhold(figure::co_loss, e.co.error());

  const uncertain but_latent = in_dry_gas + in_vapour + in_co;
  losses::give_loss(y, figure::stack_loss_gross,
                    e.co ? formula::composition_loss : formula::composition_loss_without_co,
                    figure::efficiency_gross, formula::gross_efficiency,
                    (but_latent + latent) / gross);
  losses::give_loss(y, figure::stack_loss_net, formula::composition_net_loss,
                    figure::efficiency_net, formula::net_efficiency,
                    but_latent / net_heating_value(gross, *e.atoms));
}

/// 10 CFR 430 Subpart B App. O: gross basis only, CO not counted.
inline void give_losses_by_app_o(combustion& y, const evidence& e) noexcept {
  losses::withhold(y,
                   {figure::heat_capacity_dry, figure::heat_capacity_vapour, figure::co_loss,
                    figure::stack_loss_rounded},
                   undefined::other_method);
  losses::withhold(y, {figure::stack_loss_net, figure::efficiency_net}, undefined::other_basis);
  y.withhold(figure::vapour_loss, undefined::counted_elsewhere);
  const auto& constants = e.of().app_o;
  if (!constants) {
    return losses::withhold(y,
                            {figure::latent_loss, figure::dry_gas_loss, figure::stack_loss_gross,
                             figure::efficiency_gross},
                            undefined::constant_unknown);
  }
  const uncertain latent{constants->latent / 100};
  y.give(figure::latent_loss, formula::app_o_latent, latent);
  if (!e.net || !e.co2) {
    return losses::withhold(
        y, {figure::dry_gas_loss, figure::stack_loss_gross, figure::efficiency_gross},
        !e.net ? e.net.error() : e.co2.error());
  }
  const uncertain sensible = published::app_o_sensible(*constants, *e.co2, *e.net);
  y.give(figure::dry_gas_loss, formula::app_o_sensible, sensible);
  losses::give_loss(y, figure::stack_loss_gross, formula::app_o_loss, figure::efficiency_gross,
                    formula::gross_efficiency, sensible + latent);
}

/// 1. BImSchV: net basis only, CO not counted; the loss also as the rule rounds it.
inline void give_losses_by_siegert(combustion& y, const evidence& e) noexcept {
  losses::withhold(y, {figure::heat_capacity_dry, figure::heat_capacity_vapour, figure::co_loss},
                   undefined::other_method);
  losses::withhold(y,
                   {figure::dry_gas_loss, figure::vapour_loss, figure::latent_loss,
                    figure::stack_loss_gross, figure::efficiency_gross},
                   undefined::other_basis);
  const auto& constants = e.of().siegert;
  const auto all = {figure::stack_loss_net, figure::stack_loss_rounded, figure::efficiency_net};
  if (!constants) return losses::withhold(y, all, undefined::constant_unknown);
  if (!e.net) return losses::withhold(y, all, e.net.error());
  if (!e.below_air) return losses::withhold(y, all, e.below_air.error());
  const uncertain loss = published::siegert_loss(*constants, *e.below_air, *e.net);
  losses::give_loss(y, figure::stack_loss_net, formula::siegert_loss, figure::efficiency_net,
                    formula::net_efficiency, loss);
  if (!y[figure::stack_loss_net]) {
    return y.withhold(figure::stack_loss_rounded, undefined::above_whole);
  }
  uncertain rounded = loss;
  rounded.value = published::rounded_as_the_rule_says(loss.value);
  y.give(figure::stack_loss_rounded, formula::siegert_rounding, rounded);
}

}  // namespace stilling
