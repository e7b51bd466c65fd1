// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT

// A fuel of one's own: what it is made of, by mass (an ultimate analysis) or as a mixture of gases,
// and what it gives; in a file only.

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <utility>

#include "log_settings.hpp"
#include "stilling/combustion/heating_value.hpp"

namespace stilling::command {
namespace {

constexpr std::string_view table = "fuel";

/// A share of the whole, with its standard uncertainty.
estimate read_part(std::string_view text) {
  const auto x = read_estimate(text);
  const bool percent = x.unit == "%" || x.unit == "pct";
  if (!percent && !x.unit.empty())
    throw refusal{fmt::format("'{}' is no share; write \"86.9 %\" or 0.869", text)};
  const double scale = percent ? 0.01 : 1;
  const estimate part{x.value * scale, x.standard_uncertainty * scale};
  if (part.value >= 0 && part.value <= 1) return part;
  throw refusal{fmt::format("'{}' is no share of a whole; write \"86.9 %\" or 0.869", text)};
}

/// J/kg.
estimate read_heating_value(std::string_view text) {
  struct energy {
    std::string_view name;
    double size;
  };
  constexpr std::array<energy, 4> units{{{"MJ/kg", 1e6},
                                         {"kJ/kg", 1e3},
                                         {"J/kg", 1},
                                         {"Btu/lb", joules_per_btu_per_lb}}};
  const auto x = read_estimate(text);
  for (const auto& u : units) {
    if (x.unit != u.name) continue;
    if (!(x.value > 0)) throw refusal{"must be above 0"};
    return {x.value * u.size, x.standard_uncertainty * u.size};
  }
  throw refusal{fmt::format(
      "'{}' is no heating value by mass; write \"45.4 MJ/kg\" or \"19500 Btu/lb\"", text)};
}

/// "ch4=92 %"
void read_component(std::string_view text, own_fuel& to) {
  const auto equals = text.find('=');
  const auto name = text.substr(0, equals);
  const auto at = std::ranges::find(gas_components, name, &gas_component::name);
  if (at == gas_components.end() || equals == std::string_view::npos) {
    words known;
    for (const auto& g : gas_components) known.emplace_back(g.name);
    throw refusal{fmt::format("'{}' is none of {}", name, joined(known, ", "))};
  }
  to.by_moles[static_cast<std::size_t>(at - gas_components.begin())] =
      read_part(text.substr(equals + 1)).value;
  to.any_gas = true;
}

/// The words a fuel only points at are kept beside it.
fuel made_of(const own_fuel& said, own_words& own) {
  fuel f{.name = own.keep(said.name),
         .label = own.keep(said.label.empty() ? said.name : said.label)};
  f.composition_source = own.keep(
      said.composition_source.empty() ? "as you told it" : said.composition_source);
  if (said.any_gas) {
    f.made_of = composition_of(said.by_moles);
    f.heating_value = estimate{heating_value_of(said.by_moles),
                               0.005 * heating_value_of(said.by_moles)};
    f.heating_value_source = "from the gases' formation enthalpies, McBride, Gordon, Reno set";
  } else if (said.any_mass) {
    f.made_of = said.by_mass;
    if (said.hydrogen) f.hydrogen_uncertainty = said.hydrogen->standard_uncertainty;
  }
  if (said.gross) f.heating_value = said.gross;
  if (said.net && f.made_of)
    f.heating_value = estimate{said.net->value + latent_heat_of(elements_of(*f.made_of, 0.0)),
                               said.net->standard_uncertainty};
  if (said.gross || said.net) {
    f.heating_value_source = own.keep(
        said.heating_value_source.empty()
            ? fmt::format("{} heating value as you told it", said.gross ? "gross" : "net")
            : said.heating_value_source);
  }
  if (said.factors.dry > 0 && said.factors.carbon > 0) f.factors = said.factors;
  if (said.siegert.a > 0) f.siegert = said.siegert;
  return with_estimated_heating_value(f);
}

}  // namespace

settings_list fuel_settings(log_options& to) {
  auto& own = *to.own;
  auto& said = own.fuel_said;
  settings_list all;
  const auto add = [&](std::string_view key, std::function<void(std::string_view)> take) {
    all.push_back({.table = table,
                   .key = key,
                   .take =
                       [&said, take = std::move(take)](const words& w) {
                         said.said = true;
                         take(w[0]);
                       },
                   .governs = {"fuel." + std::string{key}, "fuel"}});
  };
  const auto text = [&](std::string_view key, std::string& into) {
    add(key, [&into](std::string_view word) { into = word; });
  };
  const auto part = [&](std::string_view key, double& into) {
    add(key, [&into, &said](std::string_view word) {
      into = read_part(word).value;
      said.any_mass = true;
    });
  };
  const auto number = [&](std::string_view key, double& into) {
    add(key, [&into](std::string_view word) {
      into = read_plain_number(word);
      if (!(into > 0)) throw refusal{"must be above 0"};
    });
  };
  add("name", [&said](std::string_view word) {
    if (word.empty()) throw refusal{"a name has letters"};
    said.name = word;
  });
  text("label", said.label);
  part("carbon", said.by_mass.carbon);
  add("hydrogen", [&said](std::string_view word) {
    said.hydrogen = read_part(word);
    said.by_mass.hydrogen = said.hydrogen->value;
    said.any_mass = true;
  });
  part("oxygen", said.by_mass.oxygen);
  part("nitrogen", said.by_mass.nitrogen);
  part("sulphur", said.by_mass.sulphur);
  part("water", said.by_mass.water);
  part("ash", said.by_mass.ash);
  all.push_back({.table = table,
                 .key = "gas",
                 .is = setting::shape::rules,
                 .takes_table = true,
                 .example = "92 %",
                 .take =
                     [&said](const words& w) {
                       said.said = true;
                       for (const auto& one : w) read_component(one, said);
                     },
                 .governs = {"fuel.gas", "fuel"}});
  add("gross_heating_value", [&said](std::string_view w) { said.gross = read_heating_value(w); });
  add("net_heating_value", [&said](std::string_view w) { said.net = read_heating_value(w); });
  text("heating_value_source", said.heating_value_source);
  text("composition_source", said.composition_source);
  number("f_factor", said.factors.dry);
  number("carbon_f_factor", said.factors.carbon);
  number("siegert_a", said.siegert.a);
  number("siegert_b", said.siegert.b);
  return all;
}

std::optional<fuel_complaint> settle_fuel(log_options& to) {
  auto& own = *to.own;
  const auto& said = own.fuel_said;
  if (!said.said) return std::nullopt;
  const std::string_view gist = said.any_gas ? "fuel.gas" : "fuel.carbon";
  const auto against = [](std::string_view governs, std::string why) {
    return fuel_complaint{std::string{governs}, std::move(why)};
  };
  if (said.any_gas && said.any_mass)
    return against("fuel.gas", "say what it is made of by mass or as gases, not both");
  if (said.gross && said.net)
    return against("fuel.net_heating_value", "say the gross or the net heating value, not both");
  if (said.net && !said.any_gas && !said.any_mass)
    return against("fuel.net_heating_value",
                   "the gross one cannot be found without the fuel's hydrogen; say what it is "
                   "made of");
  if (said.any_gas) {
    double sum = 0;
    for (const double x : said.by_moles) sum += x;
    if (!(sum > 0.98 && sum < 1.02))
      return against(gist, fmt::format("the gases add up to {:.4g} %, not to 100 %", 100 * sum));
    const auto m = gas_mixtures::mean(said.by_moles);
    if (!(m.c + m.h > 0)) return against(gist, std::string{words_of(fuel_fault::nothing_burns)});
  } else if (said.any_mass) {
    const double sum = said.by_mass.sum();
    if (!(sum > 0.995 && sum < 1.005))
      return against(gist, fmt::format("the parts add up to {:.4g} %, not to 100 %", 100 * sum));
  }
  own.burned = made_of(said, own);
  if (const auto fault = check(*own.burned))
    return against(said.gross ? "fuel.gross_heating_value"
                   : said.net ? "fuel.net_heating_value"
                              : gist,
                   std::string{words_of(*fault)});
  to.shown.burned = &*own.burned;
  to.fuel_by_hand = true;
  return std::nullopt;
}

}  // namespace stilling::command
