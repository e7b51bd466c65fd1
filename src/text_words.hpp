// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#pragma once

#include <string>
#include <string_view>

#include "stilling/terms/channel.hpp"
#include "stilling/terms/time.hpp"

/// Times, channels and units as a person reads them. Private to src/.
namespace stilling::writing {

/// 9:05, 1:02:07; by the clock (UTC) where the log has dates.
[[nodiscard]] std::string clock_of(instant t);
[[nodiscard]] std::string_view label_of(channel c) noexcept;
/// "°F" for "degF"; what needs no other word stays as it is.
[[nodiscard]] std::string_view word_of(std::string_view unit_name) noexcept;

}  // namespace stilling::writing
