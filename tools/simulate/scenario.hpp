// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#pragma once

// The invented tests by name. Same scenario, seed and options: same bytes, on every machine.
//
//     auto test = simulate("first_visit", 7, {});
//     write_log(test, std::cout);

#include <cstdint>
#include <optional>
#include <span>
#include <string_view>

#include "course.hpp"
#include "simulation.hpp"

namespace stilling::invented {

struct scenario {
  std::string_view name;
  std::string_view sentence;  ///< what happens, for people
  void (*write)(course&);
  bool for_show = false;  ///< tells a story; not one of the corpus the detector is scored on
};

std::span<const scenario> scenarios() noexcept;
const scenario* find_scenario(std::string_view name) noexcept;

struct simulation_options {
  breadth draws = breadth::plain;
  bool remarks = true;           ///< note lines of the person at the burner
  double noise_scale = 1.0;      ///< of the instrument's noise; truth stays the same
  std::string_view family = {};  ///< in the truth; the scenario's name when empty
  void (*adjust)(test_plan&, double) = nullptr;  ///< sets one factor before the script is written
  double adjust_to = 0.0;
};

/// Precondition: the scenario exists; `find_scenario` tells.
simulation simulate(std::string_view name, std::uint64_t seed, const simulation_options&);

}  // namespace stilling::invented
