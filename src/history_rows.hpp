// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#pragma once

#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "stilling/history.hpp"
#include "text_number.hpp"

/// What is followed over the years, and how kept tests are put side by side. Private to src/.
namespace stilling::writing {

/// `stack_temp_K`, `efficiency_gross_fraction`
[[nodiscard]] std::string canonical_key(channel c);
[[nodiscard]] std::string canonical_key(figure f);

/// A value of one reading; canonical.
struct followed_value {
  double value = 0;
  double standard_uncertainty = 0;
  double freedom = infinite_freedom;
};

/// Something followed: how it is called, where it stands in a reading, how it is shown.
struct followed {
  std::string label;            // with its unit
  std::string short_label;      // in a sentence
  std::string_view unit_name;   // as a person reads it; empty: a plain number
  int most_decimals = 1;
  std::optional<channel> of_channel;  // else of_figure
  figure of_figure = figure::net_stack_temp;
  bool by_fuel = false;  // depends on the fuel and the method, too

  [[nodiscard]] std::optional<followed_value> in(const kept_reading& r) const;
  /// In the unit of `as`; a difference has no zero of a scale.
  [[nodiscard]] shown_value shown(const followed_value& x, bool is_difference,
                                  const presentation& as) const;
};

/// In the order a technician asks; only what one of the tests has.
[[nodiscard]] std::vector<followed> all_followed(std::span<const kept_test> tests,
                                                 const presentation& as);

/// What stands for a test; none where nothing settled.
[[nodiscard]] const kept_reading* reading_of(const kept_test& t,
                                             history::reading_of_test which) noexcept;

/// Of two tests, which share nothing: another day, another delivery of fuel, perhaps another
/// instrument. So all of both uncertainties counts, and nothing cancels.
[[nodiscard]] difference change_between(const followed_value& earlier,
                                        const followed_value& later) noexcept;

}  // namespace stilling::writing
