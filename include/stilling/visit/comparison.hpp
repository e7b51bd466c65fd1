// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#pragma once

#include <array>
#include <cstddef>
#include <optional>

#include "stilling/combustion/combustion.hpp"
#include "stilling/combustion/figure.hpp"
#include "stilling/estimators/uncertainty.hpp"
#include "stilling/items/reading.hpp"
#include "stilling/terms/channel.hpp"

/// One settled reading against another: what changed, how well that is known, and whether it is
/// more than chance. What both share, the fuel, the barometer, the chimney, cancels; what each was
/// read at does not. The instrument's own error, where a specification gave one, counts as if it
/// were new each time: so a difference is rather called doubtful than real.
namespace stilling {

struct difference {
  double value = 0;                 // later minus earlier; canonical unit
  double standard_uncertainty = 0;  // k = 1
  double factor = 2;                // two-sided 95 %, Student's t (JCGM 100:2008 G.3)
  [[nodiscard]] constexpr double expanded() const noexcept { return factor * standard_uncertainty; }
  /// Further from zero than chance takes it in 19 of 20 cases.
  [[nodiscard]] constexpr bool real() const noexcept {
    return (value < 0 ? -value : value) > expanded();
  }
  friend constexpr bool operator==(const difference&, const difference&) = default;
};

/// What is known of one settled state.
struct settled_state {
  settled_reading read;
  combustion figures;
};

struct comparison {
  lanes<difference> channels;                               // where both have a reading
  std::array<std::optional<difference>, figure_count> figures{};  // where both have the figure
  [[nodiscard]] constexpr const std::optional<difference>& operator[](figure f) const noexcept {
    return figures[index_of(f)];
  }
};

/// Of two means that are independent of each other.
[[nodiscard]] constexpr difference difference_of(const channel_reading& earlier,
                                                 const channel_reading& later) noexcept {
  const auto both = combine({{earlier.standard_uncertainty, earlier.degrees_of_freedom},
                             {later.standard_uncertainty, later.degrees_of_freedom}});
  return {later.mean - earlier.mean, both.standard, coverage_factor(both.degrees_of_freedom)};
}

/// Of one figure from two readings: contributions of channels add up in squares, of what both share
/// they are subtracted first.
[[nodiscard]] constexpr difference difference_of(const uncertain& earlier,
                                                 const uncertain& later) noexcept {
  double sum = 0;
  for (std::size_t i = 0; i < input_count; ++i) {
    const double a = earlier.contributions[i], b = later.contributions[i];
    sum += i < channel_count ? a * a + b * b : (b - a) * (b - a);
  }
  return {later.value - earlier.value, square_root(sum), 2};
}

[[nodiscard]] inline comparison compare(const settled_state& earlier,
                                        const settled_state& later) noexcept {
  comparison out;
  for (const auto c : all_channels) {
    if (earlier.read.channels.has(c) && later.read.channels.has(c))
      out.channels.set(c, difference_of(earlier.read.channels[c], later.read.channels[c]));
  }
  for (const auto& row : figure_table) {
    const auto& a = earlier.figures[row.is];
    const auto& b = later.figures[row.is];
    if (a && b) out.figures[index_of(row.is)] = difference_of(a->parts, b->parts);
  }
  return out;
}

}  // namespace stilling
