// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#pragma once

#include <cstddef>
#include <string>
#include <string_view>

#include "stilling/terms/channel.hpp"
#include "stilling/terms/time.hpp"
#include "stilling/text.hpp"

/// Times, channels and units as a person reads them. Private to src/.
namespace stilling::writing {

/// 9:05, 1:02:07; by the clock (UTC) where the log has dates.
[[nodiscard]] std::string clock_of(instant t);
/// The same by the clock that `as` names.
[[nodiscard]] std::string clock_of(instant t, const presentation& as);
/// "25 November 2026"; empty where the log has no dates.
[[nodiscard]] std::string date_of(instant t, const presentation& as);
[[nodiscard]] std::string_view label_of(channel c) noexcept;
/// "°F" for "degF"; what needs no other word stays as it is.
[[nodiscard]] std::string_view word_of(std::string_view unit_name) noexcept;
/// Letters, not bytes: "±", "°" and "–" are more than one.
[[nodiscard]] std::size_t width_of(std::string_view text) noexcept;
/// A sentence in the course of the test: a time, what kind of sentence it is, lines of 80.
void append_course(std::string& to, instant t, std::string_view kind, std::string_view sentence);

}  // namespace stilling::writing
