// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#pragma once

#include "stilling/terms/channel.hpp"
#include "stilling/terms/settings.hpp"
#include "stilling/terms/time.hpp"

/// Of which channels a forecast is made, and how often.
namespace stilling {

struct forecast_settings {
  channel_set channels{channel::stack_temp, channel::o2, channel::co};  // empty: none is made
  rate_limits limits{};            // settled is what moves no faster
  duration every = seconds(30);    // of the rows' time, while something is still to come
};

/// For the channels that must be steady, against the limits they are judged by.
[[nodiscard]] constexpr forecast_settings forecast_for(const session_settings& s) noexcept {
  return {s.phase.required, s.steadiness.limits, seconds(30)};
}

}  // namespace stilling
