// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#pragma once

#include <chrono>
#include <cstdint>
#include <limits>
#include <optional>

/// Time as the log tells it. Stamps are exact: 64-bit integers of nanoseconds since the log's own
/// origin (Unix epoch where the log has dates), within 146 years either way, so that the distance
/// of any two fits as well. There is no now(): time enters through stamps in the stream and through
/// advance(instant).
namespace stilling {

struct session_clock {
  using rep = std::int64_t;
  using period = std::nano;
  using duration = std::chrono::duration<rep, period>;
  using time_point = std::chrono::time_point<session_clock>;
  static constexpr bool is_steady = false;  // a log's clock may be set back: see discontinuity
};

using duration = session_clock::duration;
using instant = session_clock::time_point;

inline constexpr std::int64_t nanoseconds_per_second = 1'000'000'000;

inline constexpr instant earliest{duration{-(std::int64_t{1} << 62)}};
inline constexpr instant latest{duration{std::int64_t{1} << 62}};

/// Seconds as a number. Exact integers in, one correctly rounded division: a constant added to both
/// ends of a difference changes nothing.
[[nodiscard]] constexpr double in_seconds(duration d) noexcept {
  return static_cast<double>(d.count()) / static_cast<double>(nanoseconds_per_second);
}

/// Seconds to a duration, rounded to the nanosecond; nothing where the value is not a number or
/// does not fit (checked before the cast: 5e20 as an integer would be undefined).
[[nodiscard]] constexpr std::optional<duration> duration_from_seconds(double s) noexcept {
  constexpr double most = 9.2e9;
  if (!(s > -most && s < most)) return std::nullopt;
  const double ns = s * static_cast<double>(nanoseconds_per_second);
  return duration{static_cast<std::int64_t>(ns < 0 ? ns - 0.5 : ns + 0.5)};
}

/// For constants in code: whole milliseconds.
[[nodiscard]] constexpr duration milliseconds(std::int64_t n) noexcept {
  return duration{n * 1'000'000};
}

/// For constants in code: whole seconds.
[[nodiscard]] constexpr duration seconds(std::int64_t n) noexcept {
  return duration{n * nanoseconds_per_second};
}

}  // namespace stilling
