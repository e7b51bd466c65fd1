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

/// "414.4 ± 0.7"
[[nodiscard]] std::string value_of(const followed& f, const followed_value& x,
                                   const presentation& as);
/// "+12.3 ± 0.6"
[[nodiscard]] std::string change_of(const followed& f, const difference& d,
                                    const presentation& as);
/// More than chance, also by the numbers as they are shown, the ± rounded up.
[[nodiscard]] bool is_real(const followed& f, const difference& d, const presentation& as);

/// What a test has of something followed.
struct point {
  const kept_test* test;
  followed_value at;
};
[[nodiscard]] std::vector<point> points_of(const followed& f, std::span<const kept_test> tests,
                                           history::reading_of_test which);
/// Not across fuels and methods, where it depends on them.
[[nodiscard]] bool comparable(const followed& f, const kept_test& a, const kept_test& b);
/// "+0.4 ± 1.2, no more than chance (3 tests in 2.0 years)"; empty of too few.
[[nodiscard]] std::string trend_words(const followed& f, std::span<const point> all,
                                      const presentation& as);

/// Findings of one kind, told once; the gravest first.
struct kind_found {
  const kept_finding* newest;
  std::size_t times;
};
[[nodiscard]] std::vector<kind_found> kinds_found(const kept_test& t);

/// "3 tests"
[[nodiscard]] std::string counted(std::size_t n, std::string_view what);
/// "boiler, 12 Invented Lane (A. Invented)"
[[nodiscard]] std::string name_of_appliance(const kept_test& t);
[[nodiscard]] std::string smoke_words(double spot);

}  // namespace stilling::writing
