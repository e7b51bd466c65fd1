// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#pragma once

#include <cstddef>
#include <cstdint>
#include <string_view>

/// Words of a forecast: what it says, and how far it can be believed.
namespace stilling {

/// A median, and the interval that holds the true value nine times in ten.
struct likely {
  double middle = 0, low = 0, high = 0;
  friend constexpr bool operator==(const likely&, const likely&) = default;
};

/// A second, slower part of an approach moves its end, and only shows when it is large against the
/// noise.
enum class forecast_fit : std::uint8_t {
  if_no_slower_part,  // one that matters could not have shown yet
  single,             // one that matters would have shown by now, and has not
  does_not_fit,       // more than one time constant, or no exponential at all: believe no value
};

[[nodiscard]] constexpr std::string_view name_of(forecast_fit f) noexcept {
  constexpr std::string_view names[]{"if_no_slower_part", "single", "does_not_fit"};
  return names[static_cast<std::size_t>(f)];
}

}  // namespace stilling
