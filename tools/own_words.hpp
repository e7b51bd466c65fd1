// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#pragma once

#include <deque>
#include <optional>
#include <string>
#include <string_view>
#include <utility>

#include "stilling/combustion/fuel.hpp"
#include "stilling/combustion/gas_mixture.hpp"
#include "stilling/report.hpp"

// What a person says of a fuel, of limits, of an instrument of their own and of a visit, and the
// words that the library only points at: they live here for as long as anything does that was made
// of them.

namespace stilling::command {

/// [fuel] of a settings file, before it is a fuel.
struct own_fuel {
  bool said = false;
  std::string name = "own";
  std::string label, composition_source, heating_value_source;
  composition by_mass;
  std::optional<estimate> hydrogen;  // with its uncertainty
  bool any_mass = false;
  gas_mixture by_moles{};
  bool any_gas = false;
  std::optional<estimate> gross, net;  // J/kg
  f_factors factors{0, 0};             // 0: not said
  siegert_constants siegert{0, 0};
};

class own_words {
 public:
  own_fuel fuel_said;
  std::optional<fuel> burned;
  std::string limits_basis = "limit of your own";
  std::string instrument;  // its name; empty: none
  particulars about;       // a visit

  /// Words that stay where they are.
  std::string_view keep(std::string text) { return texts_.emplace_back(std::move(text)); }

 private:
  std::deque<std::string> texts_;
};

}  // namespace stilling::command
