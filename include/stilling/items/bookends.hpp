// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#pragma once

#include <cstdint>
#include <optional>
#include <string_view>

#include "stilling/terms/channel.hpp"
#include "stilling/terms/time.hpp"

/// What the cells read in fresh air before the first fire and after the last: all that a log tells
/// about how far they drifted. Known only when the log, or a part of it, is over.
namespace stilling {

/// What the air of a bookend was taken to hold. Instruments are set to 20.9 % (40 CFR 75 App. F
/// computes with it too); dry air has 20.946, hence plus or minus half the last digit. That the air
/// was clean is an assumption, and is told as one.
inline constexpr double oxygen_of_air = 0.209, oxygen_of_air_within = 0.0005;  // mol/mol
inline constexpr double monoxide_of_air = 0;
inline constexpr channel_set checked_in_air{channel::o2, channel::co};

/// Why there is none, or none that is of use.
enum class bookend_fault : std::uint8_t {
  none,
  absent,     // no fresh air was seen
  too_short,  // fewer than six rows or 20 s of it
  moves,      // not shown to stand still: within one and a half times the limit of steadiness
};

struct bookend {
  bookend_fault is = bookend_fault::absent;
  instant from{}, to{};            // rows that were averaged
  double mean = 0;                 // canonical unit
  double standard_uncertainty = 0; // k = 1: scatter, display, and what still moved meanwhile
  friend constexpr bool operator==(const bookend&, const bookend&) = default;
};

struct bookend_pair {
  bookend before, after;
  [[nodiscard]] constexpr bool complete() const noexcept {
    return before.is == bookend_fault::none && after.is == bookend_fault::none;
  }
  friend constexpr bool operator==(const bookend_pair&, const bookend_pair&) = default;
};

/// Of one part of a log, between breaks.
struct bookends {
  lanes<bookend_pair> of;  // a lane for each cell the part has values of
  friend constexpr bool operator==(const bookends&, const bookends&) = default;
};

}  // namespace stilling
