// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#pragma once

#include <array>
#include <cstddef>
#include <string_view>

#include "stilling/combustion/composition.hpp"
#include "stilling/combustion/heating_value.hpp"

/// A gaseous fuel by mole fractions of what it is mixed of: its composition by mass and its gross
/// heating value, both from first principles.
namespace stilling {

struct gas_component {
  std::string_view name;
  double c, h, o, n, s;      // atoms
  double formation_enthalpy;  // J/mol, gas, 298.15 K
};

/// Formation enthalpies: McBride, Gordon, Reno NASA 7-coefficient set (nasa_gas), evaluated at
/// 298.15 K. One family throughout: ATcT and JANAF differ from it by up to 0.3 kJ/mol.
inline constexpr std::array gas_components{
    gas_component{"ch4", 1, 4, 0, 0, 0, -74600},
    gas_component{"c2h6", 2, 6, 0, 0, 0, -83851},
    gas_component{"c2h4", 2, 4, 0, 0, 0, 52500},
    gas_component{"c3h8", 3, 8, 0, 0, 0, -104679},
    gas_component{"c3h6", 3, 6, 0, 0, 0, 19710},
    gas_component{"n_c4h10", 4, 10, 0, 0, 0, -125789},
    gas_component{"i_c4h10", 4, 10, 0, 0, 0, -134989},
    gas_component{"c5h12", 5, 12, 0, 0, 0, -146755},
    gas_component{"h2", 0, 2, 0, 0, 0, 0},
    gas_component{"co", 1, 0, 1, 0, 0, -110529},
    gas_component{"h2s", 0, 2, 0, 0, 1, -20502},
    gas_component{"co2", 1, 0, 2, 0, 0, -393508},
    gas_component{"n2", 0, 0, 0, 2, 0, 0},
    gas_component{"o2", 0, 0, 2, 0, 0, 0},
};

/// Mole fractions in the order of gas_components; they need not add up to exactly 1.
using gas_mixture = std::array<double, gas_components.size()>;

/// A mixture of one component only; empty where there is no such component.
[[nodiscard]] constexpr gas_mixture pure(std::string_view name) noexcept {
  gas_mixture x{};
  for (std::size_t i = 0; i < x.size(); ++i) x[i] = gas_components[i].name == name ? 1 : 0;
  return x;
}

namespace gas_mixtures {
struct molecule {
  double c = 0, h = 0, o = 0, n = 0, s = 0, formation_enthalpy = 0;
};
[[nodiscard]] constexpr molecule mean(const gas_mixture& x) noexcept {
  molecule m;
  for (std::size_t i = 0; i < x.size(); ++i) {
    const auto& g = gas_components[i];
    m.c += x[i] * g.c;
    m.h += x[i] * g.h;
    m.o += x[i] * g.o;
    m.n += x[i] * g.n;
    m.s += x[i] * g.s;
    m.formation_enthalpy += x[i] * g.formation_enthalpy;
  }
  return m;
}
}  // namespace gas_mixtures

[[nodiscard]] constexpr composition composition_of(const gas_mixture& x) noexcept {
  const auto m = gas_mixtures::mean(x);
  return composition_of_formula(m.c, m.h, m.o, m.n, m.s);
}

/// Gross, J/kg. Products: CO2 -393508 and SO2 -296833 of the same family, liquid water -285830
/// (JANAF 1998).
[[nodiscard]] constexpr double heating_value_of(const gas_mixture& x) noexcept {
  const auto m = gas_mixtures::mean(x);
  const double per_mole =
      m.c * 393508 + m.h / 2 * 285830 + m.s * 296833 + m.formation_enthalpy;
  const double mass = m.c * molar_mass::carbon + m.h * molar_mass::hydrogen +
                      m.o * molar_mass::oxygen + m.n * molar_mass::nitrogen +
                      m.s * molar_mass::sulphur;
  return 1000 * per_mole / mass;
}

}  // namespace stilling
