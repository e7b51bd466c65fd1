// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#pragma once

#include <cstdint>
#include <optional>

#include "stilling/terms/channel.hpp"
#include "stilling/terms/time.hpp"

/// One instant and one lane per channel: what the instrument indicated, what is to be added to it,
/// and what is suspect about it. Nothing is ever removed from a frame, only marked.
namespace stilling {

/// Why a lane is not taken at face value. Several can hold at once.
enum class quality : std::uint8_t {
  good = 0,
  outlier = 1,      // alone against its neighbours
  implausible = 2,  // no flue, room or gauge can show this
  stuck = 4,        // stands still though its own earlier noise says it should not
  over_range = 8,   // the instrument said "above"; the lane holds no value
  under_range = 16, // the instrument said "below"; the lane holds no value
};

[[nodiscard]] constexpr quality operator|(quality a, quality b) noexcept {
  return static_cast<quality>(static_cast<std::uint8_t>(a) | static_cast<std::uint8_t>(b));
}
[[nodiscard]] constexpr bool has(quality q, quality flag) noexcept {
  return (static_cast<std::uint8_t>(q) & static_cast<std::uint8_t>(flag)) != 0;
}

struct frame {
  instant at{};
  std::uint64_t line = 0;            // the line it came from; 0 where there was none
  lanes<double> indication;          // kelvin, mol/mol, pascal
  std::array<double, channel_count> correction{};    // same units; 0: none known
  std::array<double, channel_count> written_step{};  // unit of the last place written; 0: unknown
  std::optional<instant> still_since{};  // first row of the standstill, where marked stuck
  std::array<quality, channel_count> marks{};
  std::optional<double> warming{};  // K by which the room's channel is still off while the
                                    // instrument itself warms up; none: not known to do so

  /// Indication plus correction (VIM 2.53). Only where the lane is there.
  [[nodiscard]] constexpr double corrected(channel c) const noexcept {
    return indication[c] + correction[index_of(c)];
  }
  [[nodiscard]] constexpr quality mark(channel c) const noexcept { return marks[index_of(c)]; }
  constexpr void add_mark(channel c, quality q) noexcept {
    marks[index_of(c)] = marks[index_of(c)] | q;
  }
  /// There, and possible: perhaps an outlier, which may be the first row of something real.
  [[nodiscard]] constexpr bool possible(channel c) const noexcept {
    return indication.has(c) && !stilling::has(mark(c), quality::implausible);
  }
  /// There, and nothing is suspect about it.
  [[nodiscard]] constexpr bool usable(channel c) const noexcept {
    return indication.has(c) && mark(c) == quality::good;
  }
  friend constexpr bool operator==(const frame&, const frame&) = default;
};

}  // namespace stilling
