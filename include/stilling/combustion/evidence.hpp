// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#pragma once

#include "stilling/combustion/air.hpp"
#include "stilling/combustion/derived.hpp"
#include "stilling/combustion/flue_gas.hpp"
#include "stilling/combustion/fuel.hpp"
#include "stilling/combustion/published.hpp"
#include "stilling/combustion/uncertain.hpp"

/// What the readings and the fuel say before any figure is made: each either a quantity or the
/// reason why there is none. Callers want combustion.hpp.
namespace stilling {

/// Closer to air than this, or than ten standard uncertainties, 1/(20.9 - O2) says more about the
/// oxygen cell than about the fire, and linear propagation no longer holds. Our own choice.
inline constexpr double nearest_to_air = 0.01;
inline constexpr double nearest_in_uncertainties = 10;
/// Less CO2 than this is no combustion. Our own choice.
inline constexpr double least_co2 = 0.001;

class evidence {
 public:
  template <class T> using known = result<T, undefined>;
  using quantity = known<uncertain>;

  evidence(const lanes<estimate>& in, const fuel& of_fuel, const derive_options& how) noexcept
      : in_{in}, how_{how}, of_{of_fuel} {
    if (how.air_temp) in_.set(channel::ambient_temp, *how.air_temp);
    for (const auto c : all_channels) {
      if (!is_a_number(in_[c])) in_.clear(c);
    }
    net = net_stack_temp();
    co = carbon_monoxide();
    atoms = atoms_of_fuel();
    o2 = oxygen();
    below_air = kept_from_air(o2);
    co2 = carbon_dioxide();
    moisture = moisture_of_air();
    gas = products();
  }

  quantity net = nothing();        // stack above air temperature, kelvin
  quantity co = nothing();         // as read
  quantity o2 = nothing();         // as read, else from carbon dioxide
  quantity below_air = nothing();  // the same, where a formula divides by its distance to air
  quantity co2 = nothing();        // as read, else from oxygen
  quantity moisture = nothing();   // water per dry air, mol/mol
  known<elements<uncertain>> atoms = nothing();
  known<flue_gas<uncertain>> gas = nothing();

  [[nodiscard]] constexpr const lanes<estimate>& inputs() const noexcept { return in_; }
  [[nodiscard]] constexpr const fuel& of() const noexcept { return of_; }
  [[nodiscard]] constexpr bool has(channel c) const noexcept { return in_.has(c); }
  [[nodiscard]] constexpr uncertain read(channel c) const noexcept {
    return {in_[c], static_cast<input>(index_of(c))};
  }
  [[nodiscard]] constexpr uncertain pressure() const noexcept {
    return {how_.barometer, input::barometer};
  }
  /// CO that takes part in the balance: none where none was read.
  [[nodiscard]] constexpr uncertain co_counted() const noexcept {
    return co.value_or(uncertain{0.0});
  }
  /// O2 and CO2 follow from each other by the fuel's composition, not by its F factors.
  [[nodiscard]] constexpr bool by_composition() const noexcept {
    return how_.by == method::composition || !of_.factors;
  }

 private:
  /// Infinity and not-a-number were not read.
  [[nodiscard]] static constexpr bool is_a_number(const estimate& x) noexcept {
    constexpr double most = 1e12;
    return x.value > -most && x.value < most && x.standard_uncertainty >= 0 &&
           x.standard_uncertainty < most;
  }
  static constexpr unexpected<undefined> nothing() noexcept {
    return unexpected{undefined::not_derived};
  }

  [[nodiscard]] quantity net_stack_temp() const noexcept {
    if (!has(channel::stack_temp)) return unexpected{undefined::stack_temp_absent};
    if (!has(channel::ambient_temp)) return unexpected{undefined::ambient_temp_absent};
    const uncertain hot = read(channel::stack_temp), cold = read(channel::ambient_temp);
    if (!(hot.value > 0 && cold.value > 0)) return unexpected{undefined::temperature_out_of_range};
    if (!(hot.value > cold.value)) return unexpected{undefined::stack_not_above_air};
    return hot - cold;
  }

  [[nodiscard]] quantity carbon_monoxide() const noexcept {
    if (!has(channel::co)) return unexpected{undefined::co_absent};
    const auto& as_read = in_[channel::co];
    const auto& plausible = traits_of(channel::co);
    if (as_read.value < -2 * as_read.standard_uncertainty || as_read.value < plausible.lowest) {
      return unexpected{undefined::co_negative};
    }
    if (as_read.value > plausible.highest) {
      return unexpected{undefined::co_out_of_range};
    }
    return read(channel::co);
  }

  [[nodiscard]] known<elements<uncertain>> atoms_of_fuel() const noexcept {
    if (!of_.made_of) return unexpected{undefined::composition_unknown};
    if (check(of_)) return unexpected{undefined::fuel_inconsistent};
    return elements_of(*of_.made_of,
                       uncertain{estimate{0, of_.hydrogen_uncertainty}, input::fuel_hydrogen});
  }

  [[nodiscard]] quantity oxygen() const noexcept {
    if (has(channel::o2)) {
      const uncertain x = read(channel::o2);
      if (!(x.value >= 0)) return unexpected{undefined::oxygen_negative};
      if (x.value >= published::us_air_oxygen) return unexpected{undefined::oxygen_at_air};
      return x;
    }
    if (!has(channel::co2)) return unexpected{undefined::oxygen_absent};
    const uncertain z = read(channel::co2);
    if (!(z.value >= least_co2)) return unexpected{undefined::co2_near_zero};
    if (by_composition() && !atoms) return unexpected{atoms.error()};
    const uncertain x = by_composition() ? oxygen_of_balance(z)
                                         : published::o2_from_co2(*of_.factors, z);
    if (x.value < 0) return unexpected{undefined::co2_above_maximum};
    if (x.value >= published::us_air_oxygen) return unexpected{undefined::oxygen_at_air};
    return x;
  }

  [[nodiscard]] uncertain oxygen_of_balance(const uncertain& z) const noexcept {
    const uncertain dry = dry_gas_at_carbon_dioxide(*atoms, z, co_counted());
    return flue_gas_of(*atoms, dry, co_counted(), uncertain{0.0}).o2 / dry;
  }

  [[nodiscard]] static quantity kept_from_air(const quantity& x) noexcept {
    if (!x) return x;
    const double distance = published::us_air_oxygen - x->value;
    const double doubt = nearest_in_uncertainties * x->standard_uncertainty();
    if (distance < nearest_to_air || distance < doubt) {
      return unexpected{undefined::oxygen_near_air};
    }
    return x;
  }

  [[nodiscard]] quantity carbon_dioxide() const noexcept {
    if (!below_air) return below_air;
    if (has(channel::co2)) {
      const uncertain z = read(channel::co2);
      if (!(z.value >= least_co2)) return unexpected{undefined::co2_near_zero};
      if (z.value > maximum()) return unexpected{undefined::co2_above_maximum};
      return z;
    }
    if (!by_composition()) return published::co2_from_o2(*of_.factors, *below_air);
    if (!atoms) return unexpected{atoms.error()};
    return atoms->carbon / dry_gas_at_oxygen(*atoms, *below_air, co_counted()) - co_counted();
  }

  /// What this fuel can make at most; 1 where that is not known.
  [[nodiscard]] double maximum() const noexcept {
    if (!by_composition()) return published::co2_maximum(*of_.factors);
    return atoms ? co2_maximum(elements_of(*of_.made_of, 0.0)) : 1;
  }

  [[nodiscard]] quantity moisture_of_air() const noexcept {
    if (!(how_.barometer.value > 3e4 && how_.barometer.value < 1.2e5)) {
      return unexpected{undefined::pressure_out_of_range};
    }
    if (!how_.humidity) return uncertain{0.0};
    if (!(how_.humidity->value >= 0 && how_.humidity->value <= 1)) {
      return unexpected{undefined::humidity_out_of_range};
    }
    if (!has(channel::ambient_temp)) return unexpected{undefined::ambient_temp_absent};
    const uncertain t = read(channel::ambient_temp);
    if (!(t.value >= air::coldest && t.value <= air::warmest)) {
      return unexpected{undefined::temperature_out_of_range};
    }
    return air::moisture(uncertain{*how_.humidity, input::humidity}, t, pressure());
  }

  [[nodiscard]] known<flue_gas<uncertain>> products() const noexcept {
    if (!atoms) return unexpected{atoms.error()};
    if (!below_air) return unexpected{below_air.error()};
    if (!moisture) return unexpected{moisture.error()};
    const uncertain dry = has(channel::o2)
                              ? dry_gas_at_oxygen(*atoms, *below_air, co_counted())
                              : dry_gas_at_carbon_dioxide(*atoms, *co2, co_counted());
    const auto made = flue_gas_of(*atoms, dry, co_counted(), *moisture);
    if (made.o2.value < 0 || made.co2.value < 0) return unexpected{undefined::co2_above_maximum};
    return made;
  }

  lanes<estimate> in_;
  const derive_options& how_;
  const fuel& of_;
};

}  // namespace stilling
