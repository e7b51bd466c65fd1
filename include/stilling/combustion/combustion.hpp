// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#pragma once

#include <array>
#include <cstdint>
#include <optional>
#include <string_view>
#include <utility>

#include "stilling/combustion/figure.hpp"
#include "stilling/combustion/formula.hpp"
#include "stilling/combustion/fuel.hpp"
#include "stilling/combustion/published.hpp"
#include "stilling/combustion/uncertain.hpp"
#include "stilling/items/reading.hpp"
#include "stilling/terms/channel.hpp"
#include "stilling/terms/result.hpp"

/// derive(): from what was read to the combustion figures, each with its standard uncertainty and
/// the formula that made it, or the reason why there is none. A function: it remembers nothing.
namespace stilling {

/// Where heat losses come from.
enum class method : std::uint8_t {
  app_o,    // 10 CFR 430 Subpart B App. O (2015 ed.): gross basis
  siegert,  // 1. BImSchV (2010): net basis
};
inline constexpr std::array all_methods{method::app_o, method::siegert};

[[nodiscard]] constexpr std::string_view name_of(method m) noexcept {
  constexpr std::string_view names[]{"app_o", "siegert"};
  return names[static_cast<std::size_t>(m)];
}

struct derive_options {
  method by = method::app_o;
  std::optional<estimate> air_temp;  // kelvin; takes the place of the ambient_temp channel
  lanes<double> instrument;  // standard uncertainty of the instrument itself, canonical units
};

struct derived_value {
  double value = 0;  // canonical unit of the figure: kelvin, fraction, pascal, plain number
  double standard_uncertainty = 0;  // k = 1
  formula by = formula::difference;
  uncertain parts;  // the same value with the contribution of every input
  friend constexpr bool operator==(const derived_value&, const derived_value&) = default;
};

using derived = result<derived_value, undefined>;

/// All figures of one reading, in the order of figure_table.
struct combustion {
  method by = method::app_o;
  std::array<derived, figure_count> figures = none(std::make_index_sequence<figure_count>{});

  [[nodiscard]] constexpr const derived& operator[](figure f) const noexcept {
    return figures[index_of(f)];
  }
  void give(figure f, formula by_formula, const uncertain& y) noexcept {
    figures[index_of(f)] = derived_value{y.value, y.standard_uncertainty(), by_formula, y};
  }
  constexpr void withhold(figure f, undefined why) noexcept {
    figures[index_of(f)] = unexpected{why};
  }
  friend constexpr bool operator==(const combustion&, const combustion&) = default;

 private:
  template <std::size_t... I>
  static constexpr std::array<derived, figure_count> none(std::index_sequence<I...>) noexcept {
    return {((void)I, derived{unexpected{undefined::not_derived}})...};
  }
};

/// Closer to air than this, or than ten standard uncertainties, 1/(20.9 - O2) says more about the
/// oxygen cell than about the fire, and linear propagation no longer holds. Our own choice.
inline constexpr double nearest_to_air = 0.01;
inline constexpr double nearest_in_uncertainties = 10;

namespace deriving {

/// An intermediate quantity, or why it is not there.
using quantity_or_reason = result<uncertain, undefined>;

[[nodiscard]] inline quantity_or_reason read(const lanes<estimate>& in, channel c,
                                             undefined absent) noexcept {
  if (!in.has(c)) return unexpected{absent};
  return uncertain{in[c], static_cast<input>(index_of(c))};
}

/// Oxygen as measured, else from CO2 by the fuel's F factors.
[[nodiscard]] inline quantity_or_reason oxygen(const lanes<estimate>& in, const fuel& of) noexcept {
  if (in.has(channel::o2)) {
    const uncertain o2{in[channel::o2], input::o2};
    if (o2.value < 0) return unexpected{undefined::oxygen_negative};
    if (o2.value >= published::us_air_oxygen) return unexpected{undefined::oxygen_at_air};
    return o2;
  }
  if (!in.has(channel::co2)) return unexpected{undefined::oxygen_absent};
  if (!of.factors) return unexpected{undefined::constant_unknown};
  const uncertain co2{in[channel::co2], input::co2};
  if (!(co2.value > 0)) return unexpected{undefined::co2_not_positive};
  if (co2.value > published::co2_maximum(*of.factors)) {
    return unexpected{undefined::co2_above_maximum};
  }
  return published::o2_from_co2(*of.factors, co2);
}

/// The same oxygen, where a formula divides by its distance from air.
[[nodiscard]] inline quantity_or_reason below_air(const quantity_or_reason& o2) noexcept {
  if (!o2) return o2;
  const double distance = published::us_air_oxygen - o2->value;
  if (distance < nearest_to_air || distance < nearest_in_uncertainties * o2->standard_uncertainty()) {
    return unexpected{undefined::oxygen_near_air};
  }
  return o2;
}

[[nodiscard]] inline quantity_or_reason carbon_dioxide(const lanes<estimate>& in, const fuel& of,
                                                       const quantity_or_reason& o2) noexcept {
  if (!o2) return o2;
  if (!in.has(channel::o2)) return uncertain{in[channel::co2], input::co2};
  if (!of.factors) return unexpected{undefined::constant_unknown};
  return published::co2_from_o2(*of.factors, *o2);
}

[[nodiscard]] inline quantity_or_reason net_stack_temp(const lanes<estimate>& in,
                                                       const derive_options& how) noexcept {
  const auto stack = read(in, channel::stack_temp, undefined::stack_temp_absent);
  if (!stack) return stack;
  const auto air = how.air_temp ? quantity_or_reason{uncertain{*how.air_temp, input::ambient_temp}}
                                : read(in, channel::ambient_temp, undefined::ambient_temp_absent);
  if (!air) return air;
  for (const auto& t : {*stack, *air}) {
    if (!(t.value > 0)) return unexpected{undefined::temperature_out_of_range};
  }
  if (!(stack->value > air->value)) return unexpected{undefined::stack_not_above_air};
  return *stack - *air;
}

inline void give_or_withhold(combustion& y, figure f, formula by,
                             const quantity_or_reason& q) noexcept {
  if (q) y.give(f, by, *q);
  else y.withhold(f, q.error());
}

inline void oxygen_figures(combustion& y, const lanes<estimate>& in,
                           const quantity_or_reason& o2) noexcept {
  const auto near = below_air(o2);
  if (!near) {
    for (auto f : {figure::excess_air, figure::air_ratio, figure::co_air_free}) {
      y.withhold(f, near.error());
    }
    return;
  }
  y.give(figure::excess_air, formula::short_excess_air, published::excess_air(*near));
  y.give(figure::air_ratio, formula::short_air_ratio, published::air_ratio(*near));
  const auto co = read(in, channel::co, undefined::co_absent);
  if (!co) return y.withhold(figure::co_air_free, co.error());
  if (co->value < -2 * co->standard_uncertainty()) {
    return y.withhold(figure::co_air_free, undefined::co_negative);
  }
  y.give(figure::co_air_free, formula::short_co_air_free, published::co_air_free(*co, *near));
}

/// Loss and efficiency on one basis; never more than the whole.
inline void give_loss(combustion& y, figure loss, formula by, figure efficiency, formula rest,
                      const uncertain& q) noexcept {
  if (q.value > 1) {
    y.withhold(loss, undefined::above_whole);
    y.withhold(efficiency, undefined::above_whole);
    return;
  }
  y.give(loss, by, q);
  y.give(efficiency, rest, 1.0 - q);
}

inline void app_o_figures(combustion& y, const fuel& of, const quantity_or_reason& co2,
                          const quantity_or_reason& net) noexcept {
  for (auto f : {figure::vapour_loss}) y.withhold(f, undefined::counted_elsewhere);
  for (auto f : {figure::stack_loss_net, figure::efficiency_net}) {
    y.withhold(f, undefined::other_basis);
  }
  const auto gross = {figure::dry_gas_loss, figure::stack_loss_gross, figure::efficiency_gross};
  if (!of.app_o) {
    for (auto f : gross) y.withhold(f, undefined::constant_unknown);
    return y.withhold(figure::latent_loss, undefined::constant_unknown);
  }
  const uncertain latent{of.app_o->latent / 100};
  y.give(figure::latent_loss, formula::app_o_latent, latent);
  if (!co2 || !net) {
    for (auto f : gross) y.withhold(f, !net ? net.error() : co2.error());
    return;
  }
  const uncertain sensible = published::app_o_sensible(*of.app_o, *co2, *net);
  y.give(figure::dry_gas_loss, formula::app_o_sensible, sensible);
  give_loss(y, figure::stack_loss_gross, formula::app_o_loss, figure::efficiency_gross,
            formula::gross_efficiency, sensible + latent);
}

inline void siegert_figures(combustion& y, const lanes<estimate>& in, const fuel& of,
                            const quantity_or_reason& o2, const quantity_or_reason& net) noexcept {
  for (auto f : {figure::dry_gas_loss, figure::vapour_loss, figure::latent_loss,
                 figure::stack_loss_gross, figure::efficiency_gross}) {
    y.withhold(f, undefined::other_basis);
  }
  const auto near = below_air(o2);
  if (!of.siegert || !near || !net) {
    for (auto f : {figure::stack_loss_net, figure::efficiency_net}) {
      y.withhold(f, !of.siegert ? undefined::constant_unknown
                                : (!net ? net.error() : near.error()));
    }
    return;
  }
  give_loss(y, figure::stack_loss_net,
            in.has(channel::o2) ? formula::siegert_loss : formula::siegert_loss_from_co2,
            figure::efficiency_net, formula::net_efficiency,
            published::siegert_loss(*of.siegert, *near, *net));
}

}  // namespace deriving

/// Figures from readings typed by hand or taken anywhere: per channel a value and its standard
/// uncertainty, in kelvin, mol/mol dry, pascal.
[[nodiscard]] inline combustion derive(const lanes<estimate>& in, const fuel& of,
                                       const derive_options& how = {}) noexcept {
  using namespace deriving;
  combustion y;
  y.by = how.by;
  const auto net = net_stack_temp(in, how);
  give_or_withhold(y, figure::net_stack_temp, formula::difference, net);

  const auto o2 = oxygen(in, of);
  const auto co2 = carbon_dioxide(in, of, below_air(o2));
  if (in.has(channel::o2)) y.withhold(figure::o2, undefined::oxygen_measured);
  else give_or_withhold(y, figure::o2, formula::f_factor_o2, o2);
  if (in.has(channel::co2)) y.withhold(figure::co2, undefined::co2_measured);
  else give_or_withhold(y, figure::co2, formula::f_factor_co2, co2);
  oxygen_figures(y, in, o2);

  if (how.by == method::app_o) app_o_figures(y, of, co2, net);
  else siegert_figures(y, in, of, o2, net);

  if (in.has(channel::draft_breech) && in.has(channel::draft_overfire)) {
    y.give(figure::draft_difference, formula::difference,
           uncertain{in[channel::draft_breech], input::draft_breech} -
               uncertain{in[channel::draft_overfire], input::draft_overfire});
  } else {
    y.withhold(figure::draft_difference, undefined::draft_absent);
  }
  return y;
}

/// Figures of a settled reading: the uncertainty of its means, and that of the instrument where
/// one is given, enter as independent parts.
[[nodiscard]] inline combustion derive(const settled_reading& r, const fuel& of,
                                       const derive_options& how = {}) noexcept {
  lanes<estimate> in;
  for (auto c : all_channels) {
    if (!r.channels.has(c)) continue;
    const double scatter = r.channels[c].standard_uncertainty;
    const double specification = how.instrument.has(c) ? how.instrument[c] : 0;
    in.set(c, {r.channels[c].mean,
               std::sqrt(scatter * scatter + specification * specification)});
  }
  return derive(in, of, how);
}

}  // namespace stilling
