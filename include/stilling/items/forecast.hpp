// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#pragma once

#include "stilling/terms/channel.hpp"
#include "stilling/terms/likely.hpp"
#include "stilling/terms/time.hpp"

/// Where the channels are heading, and when they will move no faster than their limits. Never a
/// claim: nothing is settled because a forecast says that it will be.
namespace stilling {

struct channel_forecast {
  likely value;                                 // it will settle at; kelvin, mol/mol, pascal
  instant settles{}, settles_low{}, settles_high{};  // median and 90 % interval; may be past
  double time_constant = 0;                     // seconds
  forecast_fit fit = forecast_fit::if_no_slower_part;
  friend constexpr bool operator==(const channel_forecast&, const channel_forecast&) = default;
};

struct forecast {
  instant at{};                     // the newest row it knows
  lanes<channel_forecast> channels;  // where the rows tell; a steady one needs none
  friend constexpr bool operator==(const forecast&, const forecast&) = default;
};

}  // namespace stilling
