// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#pragma once

#include <array>
#include <cstddef>
#include <cstdint>
#include <string_view>

/// Every formula by name, as text, with its source. A derived value names the formula that made it;
/// the constant for the oxygen in air belongs to the formula and to nothing else.
/// In the text, {name} stands for a number: an input or figure by its key, or a fuel constant.
namespace stilling {

enum class formula : std::uint8_t {
  difference,
  f_factor_co2,
  f_factor_o2,
  short_excess_air,
  short_air_ratio,
  short_co_air_free,
  app_o_sensible,
  app_o_latent,
  app_o_loss,
  siegert_loss,
  siegert_loss_from_co2,
  gross_efficiency,
  net_efficiency,
};
inline constexpr std::size_t formula_count = 13;

struct formula_traits {
  formula is;
  std::string_view name;
  std::string_view text;
  std::string_view source;
};

inline constexpr std::array<formula_traits, formula_count> formula_table{{
    {formula::difference, "difference", "first - second", "definition"},
    {formula::f_factor_co2, "f_factor_co2",
     "CO2 = 100 Fc/F x (20.9 - {o2_pct})/20.9, F {f_factor_dry}, Fc {f_factor_carbon}",
     "40 CFR 75 App. F 3.3.5 Table 1, Eq. F-14a (2015 ed.)"},
    {formula::f_factor_o2, "f_factor_o2",
     "O2 = 20.9 x (1 - {co2_pct}/(100 Fc/F)), F {f_factor_dry}, Fc {f_factor_carbon}",
     "40 CFR 75 App. F 3.3.5 Table 1, Eq. F-14a (2015 ed.)"},
    {formula::short_excess_air, "short_excess_air", "100 x {o2_pct}/(20.9 - {o2_pct})",
     "definition with air O2 20.9 % as in 40 CFR 75 App. F (2015 ed.)"},
    {formula::short_air_ratio, "short_air_ratio", "20.9/(20.9 - {o2_pct})",
     "definition with air O2 20.9 % as in 40 CFR 75 App. F (2015 ed.)"},
    {formula::short_co_air_free, "short_co_air_free", "{co_ppm} x 20.9/(20.9 - {o2_pct})",
     "definition with air O2 20.9 % (US practice)"},
    {formula::app_o_sensible, "app_o_sensible",
     "C x (A + B/{co2_pct} + D) x {net_stack_temp_degF}, A {app_o_a} B {app_o_b} C {app_o_c} "
     "D {app_o_d}",
     "10 CFR 430 Subpart B App. O 4.1.9, Table 2 (2015 ed.); water vapour's sensible heat included"},
    {formula::app_o_latent, "app_o_latent", "L = {app_o_latent}",
     "10 CFR 430 Subpart B App. O Table 2 (2015 ed.)"},
    {formula::app_o_loss, "app_o_loss", "{dry_gas_loss_pct} + {latent_loss_pct}",
     "10 CFR 430 Subpart B App. O 4.1.10 (2015 ed.)"},
    {formula::siegert_loss, "siegert_loss",
     "{net_stack_temp_K} x (A/(21 - {o2_pct}) + B), A {siegert_a} B {siegert_b}",
     "1. BImSchV (26 Jan 2010) Annex 2 no. 3.4.1"},
    {formula::siegert_loss_from_co2, "siegert_loss_from_co2",
     "as siegert_loss, O2 from CO2 by f_factor_o2",
     "1. BImSchV (26 Jan 2010) Annex 2 no. 3.4.1 and 40 CFR 75 App. F (2015 ed.)"},
    {formula::gross_efficiency, "gross_efficiency", "100 - {stack_loss_gross_pct}", "definition"},
    {formula::net_efficiency, "net_efficiency", "100 - {stack_loss_net_pct}", "definition"},
}};

[[nodiscard]] constexpr const formula_traits& traits_of(formula f) noexcept {
  return formula_table[static_cast<std::size_t>(f)];
}
[[nodiscard]] constexpr std::string_view name_of(formula f) noexcept { return traits_of(f).name; }

}  // namespace stilling
