// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#pragma once

// The chain behind a driver for small machines: what criterion `field` needs, and no more. Left
// out are the instrument's own warm-up, rules about readings, criterion `strict` (no_course), and
// the care for foreign clocks (timeline): a driver's rows have a clock that does not break. With 64
// slots a trend is judged every four seconds, so claims come later; departures are watched at every
// row all the same. A creeping reading averages its newest minute instead of two.

#include "stilling/session.hpp"

namespace bare {

using namespace stilling;

/// `Slots` of past for a trend, `Pieces` of five seconds for a reading.
template <std::size_t Slots = 64, std::size_t Pieces = 12>
[[nodiscard]] constexpr auto small_recipe(const session_settings& s) noexcept {
  return recipe{[&s] { return screen{s.screen}; }} |
         recipe{[&s] { return steadiness<Slots, no_course>{s.steadiness}; }} |
         recipe{[] { return gas_path{}; }} | recipe{[&s] { return fire{s.phase}; }} |
         recipe{[&s] { return phases{s.phase}; }} |
         recipe{[&s] { return plateau<Pieces>{s.plateau}; }};
}

// Not constexpr: the compiler would lay the whole object out in flash to be copied from.
template <std::size_t Slots = 64, std::size_t Pieces = 12>
[[nodiscard]] inline auto small_chain(const session_settings& s) noexcept {
  return small_recipe<Slots, Pieces>(s)();
}

}  // namespace bare
