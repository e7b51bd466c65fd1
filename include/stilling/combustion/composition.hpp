// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#pragma once

#include "stilling/combustion/uncertain.hpp"

/// What a fuel is made of: mass fractions (an ultimate analysis), and the same as moles of atoms in
/// a kilogram, which is what combustion counts.
namespace stilling {

/// Molar masses in g/mol: IUPAC standard atomic weights, rounded; dry air: handbook, second-hand.
namespace molar_mass {
inline constexpr double carbon = 12.011;
inline constexpr double hydrogen = 1.008;
inline constexpr double oxygen = 15.999;
inline constexpr double nitrogen = 14.007;
inline constexpr double sulphur = 32.06;
inline constexpr double water = 2 * hydrogen + oxygen;
inline constexpr double dry_air = 28.9647;
}  // namespace molar_mass

/// Mass fractions of the fuel as fired; they add up to 1. Hydrogen and oxygen of the water are
/// counted in `water` only.
struct composition {
  double carbon = 0;
  double hydrogen = 0;
  double oxygen = 0;
  double nitrogen = 0;
  double sulphur = 0;
  double water = 0;
  double ash = 0;

  [[nodiscard]] constexpr double sum() const noexcept {
    return carbon + hydrogen + oxygen + nitrogen + sulphur + water + ash;
  }
  friend constexpr bool operator==(const composition&, const composition&) = default;
};

/// The composition of C_c H_h O_o N_n S_s.
[[nodiscard]] constexpr composition composition_of_formula(double c, double h, double o = 0,
                                                           double n = 0, double s = 0) noexcept {
  const double mc = c * molar_mass::carbon, mh = h * molar_mass::hydrogen;
  const double mo = o * molar_mass::oxygen, mn = n * molar_mass::nitrogen;
  const double ms = s * molar_mass::sulphur, all = mc + mh + mo + mn + ms;
  return {mc / all, mh / all, mo / all, mn / all, ms / all, 0, 0};
}

/// `share` (by mass) of the first fuel in the second.
[[nodiscard]] constexpr composition blend(const composition& a, double share,
                                          const composition& b) noexcept {
  const double rest = 1 - share;
  return {share * a.carbon + rest * b.carbon,     share * a.hydrogen + rest * b.hydrogen,
          share * a.oxygen + rest * b.oxygen,     share * a.nitrogen + rest * b.nitrogen,
          share * a.sulphur + rest * b.sulphur,   share * a.water + rest * b.water,
          share * a.ash + rest * b.ash};
}

/// Moles of atoms (of molecules for water) per kilogram of fuel.
template <class Number> struct elements {
  Number carbon, hydrogen, oxygen, nitrogen, sulphur, water;
};

/// `more_hydrogen`: mass fraction of hydrogen above the table's, in place of carbon. Zero in value,
/// it carries what is not known about the fuel.
template <class Number>
[[nodiscard]] constexpr elements<Number> elements_of(const composition& w,
                                                     const Number& more_hydrogen) noexcept {
  return {(w.carbon - more_hydrogen) * (1000 / molar_mass::carbon),
          (w.hydrogen + more_hydrogen) * (1000 / molar_mass::hydrogen),
          Number{w.oxygen * (1000 / molar_mass::oxygen)},
          Number{w.nitrogen * (1000 / molar_mass::nitrogen)},
          Number{w.sulphur * (1000 / molar_mass::sulphur)},
          Number{w.water * (1000 / molar_mass::water)}};
}

}  // namespace stilling
