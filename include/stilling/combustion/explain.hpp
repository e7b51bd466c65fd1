// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#pragma once

#include <optional>
#include <string_view>

#include "stilling/combustion/derived.hpp"
#include "stilling/combustion/figure.hpp"
#include "stilling/combustion/fuel.hpp"
#include "stilling/combustion/fuel_constants.hpp"
#include "stilling/combustion/thermochemistry.hpp"
#include "stilling/terms/unit.hpp"

/// The number behind a {key} in a formula's text, so that a writer can fill them in and a reader
/// can follow with a calculator. Nothing but units is calculated here.
///
///   for_each_part(traits_of(y[figure::co2]->by).text, [&](auto words) { … },
///                 [&](auto key) { … number_named(key, y, of) … });
namespace stilling {

namespace explaining {

/// What is left of `key` after `stem` and '_'; nothing where the key is another's.
[[nodiscard]] constexpr std::optional<std::string_view> unit_after(std::string_view key,
                                                                   std::string_view stem) noexcept {
  if (!key.starts_with(stem)) return std::nullopt;
  key.remove_prefix(stem.size());
  if (key.empty()) return key;
  if (key.front() != '_') return std::nullopt;
  return key.substr(1);
}

[[nodiscard]] constexpr std::optional<double> shown_in(double x, shown_as kind,
                                                       std::string_view in) noexcept {
  const auto by = [&](quantity q, bool point) -> std::optional<double> {
    const auto u = find_unit(in, q);
    if (!u) return std::nullopt;
    return point ? from_canonical(*u, x) : difference_from_canonical(*u, x);
  };
  switch (kind) {
    case shown_as::temperature: return by(quantity::temperature, true);
    case shown_as::temperature_difference: return by(quantity::temperature, false);
    case shown_as::percent:
    case shown_as::ppm: return by(quantity::volume_fraction, true);
    case shown_as::pressure_difference:
    case shown_as::pressure: return by(quantity::pressure_difference, true);
    case shown_as::ratio: return in.empty() ? std::optional{x} : std::nullopt;
    case shown_as::amount: return in == "mol_per_kg" ? std::optional{x} : std::nullopt;
    case shown_as::heat_capacity: return in == "J_per_mol_K" ? std::optional{x} : std::nullopt;
  }
  return std::nullopt;
}

[[nodiscard]] constexpr shown_as kind_of(channel c) noexcept {
  switch (traits_of(c).kind) {
    case quantity::temperature: return shown_as::temperature;
    case quantity::pressure_difference: return shown_as::pressure_difference;
    case quantity::volume_fraction: break;
  }
  return shown_as::percent;
}

/// "co2_a3": a coefficient of thermochemistry.hpp.
[[nodiscard]] constexpr std::optional<double> coefficient_named(std::string_view key) noexcept {
  for (const auto& p : species_table) {
    if (key.size() != p.name.size() + 3 || key[p.name.size()] != '_') continue;
    bool same = key[p.name.size() + 1] == 'a';
    for (std::size_t i = 0; i < p.name.size(); ++i) {
      const char c = p.name[i];
      same = same && key[i] == (c >= 'A' && c <= 'Z' ? static_cast<char>(c + 32) : c);
    }
    const double a[]{p.a1, p.a2, p.a3, p.a4, p.a5};
    const char which = key.back();
    if (same && which >= '1' && which <= '5') return a[which - '1'];
  }
  return std::nullopt;
}

}  // namespace explaining

/// A channel or a figure by its key with its unit ("o2_pct", "dry_air_mol_per_kg"), a constant of
/// the fuel ("app_o_b"), a coefficient of a gas ("co2_a3"), "barometer_Pa", "humidity",
/// "chimney_height_m" or "outdoor_temp_K". What was read comes before what was derived. Nothing
/// where there is no such number; what worked_steps.hpp names is calculated from those here.
[[nodiscard]] constexpr std::optional<double> number_named(std::string_view key,
                                                           const combustion& y,
                                                           const fuel& of) noexcept {
  using namespace explaining;
  for (const auto c : all_channels) {
    const auto in = unit_after(key, traits_of(c).name);
    if (!in || !y.inputs.has(c)) continue;
    if (const auto x = shown_in(y.inputs[c].value, kind_of(c), *in)) return x;
  }
  for (const auto& row : figure_table) {
    const auto in = unit_after(key, row.stem);
    if (!in || !y[row.is]) continue;
    if (const auto x = shown_in(y[row.is]->value, row.kind, *in)) return x;
  }
  if (key == "barometer_Pa") return y.barometer.value;
  if (key == "humidity" && y.humidity) return y.humidity->value;
  if (key == "chimney_height_m" && y.flue) return y.flue->height.value;
  if (key == "outdoor_temp_K" && y.flue) return y.flue->outdoor.value;
  if (const auto a = coefficient_named(key)) return a;
  if (const auto constants = constants_of(of); const auto* c = constants.find(key)) return c->value;
  return std::nullopt;
}

/// Cuts a formula's text into plain words and {keys}, in order.
template <class Words, class Key>
constexpr void for_each_part(std::string_view text, Words&& words, Key&& key) {
  while (!text.empty()) {
    const auto open = text.find('{');
    if (open != 0) words(text.substr(0, open));
    if (open == text.npos) return;
    const auto close = text.find('}', open);
    key(text.substr(open + 1, close - open - 1));
    text.remove_prefix(close + 1);
  }
}

}  // namespace stilling
