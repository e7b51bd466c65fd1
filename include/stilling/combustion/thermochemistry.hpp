// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#pragma once

#include <array>
#include <cstddef>
#include <cstdint>
#include <string_view>

/// Heat capacities and enthalpies of the flue gases by NASA 7-coefficient polynomials:
/// cp/R = a1 + a2 T + a3 T^2 + a4 T^3 + a5 T^4, J/(mol K), 200 to 1000 K, ideal gas.
/// McBride, Gordon, Reno set (nasa_gas of a public thermochemistry library); the integration
/// constant is left out, since only differences of enthalpy are ever asked for.
namespace stilling {

inline constexpr double gas_constant = 8.31446261815324;  // J/(mol K); exact, SI 2019

enum class species : std::uint8_t { n2, o2, co2, h2o, co, ar, so2 };
inline constexpr std::size_t species_count = 7;

struct heat_capacity_polynomial {
  std::string_view name;
  double a1, a2, a3, a4, a5;
};

inline constexpr std::array<heat_capacity_polynomial, species_count> species_table{{
    {"N2", 3.53100528, -1.23660987e-4, -5.02999437e-7, 2.43530612e-9, -1.40881235e-12},
    {"O2", 3.78245636, -2.99673415e-3, 9.847302e-6, -9.68129508e-9, 3.24372836e-12},
    {"CO2", 2.35677352, 8.98459677e-3, -7.12356269e-6, 2.45919022e-9, -1.43699548e-13},
    {"H2O", 4.19864056, -2.0364341e-3, 6.52040211e-6, -5.48797062e-9, 1.77197817e-12},
    {"CO", 3.57953347, -6.1035368e-4, 1.01681433e-6, 9.07005884e-10, -9.04424499e-13},
    {"Ar", 2.5, 0, 0, 0, 0},
    {"SO2", 3.2665338, 5.3237902e-3, 6.8437552e-7, -5.2810047e-9, 2.5590454e-12},
}};

inline constexpr double lowest_temperature = 200;    // kelvin; SO2 was fitted from 300 K up
inline constexpr double highest_temperature = 1000;  // kelvin

[[nodiscard]] constexpr const heat_capacity_polynomial& polynomial_of(species s) noexcept {
  return species_table[static_cast<std::size_t>(s)];
}

/// J/(mol K).
template <class Number>
[[nodiscard]] constexpr Number heat_capacity(species s, const Number& t) noexcept {
  const auto& p = polynomial_of(s);
  return gas_constant * (p.a1 + t * (p.a2 + t * (p.a3 + t * (p.a4 + t * p.a5))));
}

namespace thermochemistry {
template <class Number>
[[nodiscard]] constexpr Number integral(const heat_capacity_polynomial& p,
                                        const Number& t) noexcept {
  return t * (p.a1 + t * (p.a2 / 2 + t * (p.a3 / 3 + t * (p.a4 / 4 + t * (p.a5 / 5)))));
}
}  // namespace thermochemistry

/// Heat taken up between two temperatures, J/mol.
template <class Number>
[[nodiscard]] constexpr Number enthalpy_rise(species s, const Number& from,
                                             const Number& to) noexcept {
  const auto& p = polynomial_of(s);
  return gas_constant *
         (thermochemistry::integral(p, to) - thermochemistry::integral(p, from));
}

}  // namespace stilling
