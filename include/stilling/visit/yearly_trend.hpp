// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#pragma once

#include <cstddef>
#include <optional>
#include <span>

#include "stilling/estimators/uncertainty.hpp"

/// One value for each of several tests, years apart: how fast it moves per year, and whether that
/// is more than chance. Tests scatter about a line by more than their own uncertainty says: by the
/// weather, the fuel, whoever was there. So the half-width is the larger of two: Student's t at
/// n - 2 times what the scatter of the tests gives by least squares, and k = 2 times what their
/// uncertainties give. Three tests say little: t is 12.7 there.
namespace stilling {

struct dated_value {
  double years = 0;  // since any day
  double value = 0;
  double standard_uncertainty = 0;  // k = 1
};

struct yearly_trend {
  double rate = 0;      // per year; unit of the values
  double expanded = 0;  // half-width of its 95 % interval
  std::size_t tests = 0;
  double years = 0;     // from the first to the last
  [[nodiscard]] constexpr bool real() const noexcept {
    return (rate < 0 ? -rate : rate) > expanded;
  }
  friend constexpr bool operator==(const yearly_trend&, const yearly_trend&) = default;
};

/// None of fewer than three tests, nor of tests all on one day.
[[nodiscard]] constexpr std::optional<yearly_trend> trend_of(
    std::span<const dated_value> of) noexcept {
  if (of.size() < 3) return std::nullopt;
  const auto count = static_cast<double>(of.size());
  double years = 0, values = 0, first = of[0].years, last = of[0].years;
  for (const auto& v : of) {
    years += v.years / count;
    values += v.value / count;
    first = v.years < first ? v.years : first;
    last = v.years > last ? v.years : last;
  }
  if (!(last > first)) return std::nullopt;
  double spread = 0, both = 0, known = 0;
  for (const auto& v : of) {
    const double x = v.years - years, u = x * v.standard_uncertainty;
    spread += x * x;
    both += x * (v.value - values);
    known += u * u;
  }
  const double rate = both / spread;
  double squares = 0;
  for (const auto& v : of) {
    const double off = v.value - values - rate * (v.years - years);
    squares += off * off;
  }
  const double freedom = count - 2;
  const double by_scatter = coverage_factor(freedom) * square_root(squares / freedom / spread);
  const double by_uncertainty = 2 * square_root(known) / spread;
  return yearly_trend{rate, by_scatter > by_uncertainty ? by_scatter : by_uncertainty, of.size(),
                      last - first};
}

}  // namespace stilling
