// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#pragma once

#include <cstdint>
#include <optional>

#include "stilling/terms/time.hpp"

/// A stamp as a calendar and a clock show it, before anything is known about zone or missing parts.
/// Proleptic Gregorian calendar, as in ISO 8601.
namespace stilling {

struct civil {
  enum class half : std::uint8_t { whole_day, am, pm };

  std::int32_t year = 0;
  std::uint32_t month = 1;
  std::uint32_t day = 1;
  std::uint32_t hour = 0;
  std::uint32_t minute = 0;
  std::uint32_t second = 0;
  std::uint32_t nanosecond = 0;
  half part = half::whole_day;
  std::int32_t offset = 0;  // seconds east of UTC, where `has_offset`
  bool has_year = false;
  bool has_date = false;
  bool has_offset = false;
  bool day_first = false;    // written day.month.year
  bool month_first = false;  // written month/day/year
  friend constexpr bool operator==(const civil&, const civil&) = default;
};

/// Whole seconds since 1970-01-01 00:00 on the clock's own wall; none where there is no such day or
/// hour. 12 AM is midnight and 12 PM noon; 24:00:00 is the end of the day; a leap second falls on
/// the second after it.
[[nodiscard]] constexpr std::optional<std::int64_t> wall_seconds(const civil& c) noexcept {
  const std::chrono::year_month_day date{std::chrono::year{c.year}, std::chrono::month{c.month},
                                         std::chrono::day{c.day}};
  if (!date.ok() || c.minute > 59 || c.second > 60) return std::nullopt;
  auto hour = c.hour;
  if (c.part != civil::half::whole_day) {
    if (hour < 1 || hour > 12) return std::nullopt;
    hour = hour % 12 + (c.part == civil::half::pm ? 12 : 0);
  }
  if (hour > 24 || (hour == 24 && (c.minute != 0 || c.second != 0 || c.nanosecond != 0)))
    return std::nullopt;
  const auto days = std::chrono::sys_days{date}.time_since_epoch().count();
  return std::int64_t{days} * 86'400 + std::int64_t{hour} * 3'600 + std::int64_t{c.minute} * 60 +
         c.second;
}

/// The instant of UTC seconds and nanoseconds; none outside 146 years either way of 1970.
[[nodiscard]] constexpr std::optional<instant> instant_of(std::int64_t seconds_of_utc,
                                                          std::uint32_t nanosecond) noexcept {
  constexpr std::int64_t most = 4'611'686'017;  // 2^62 ns
  if (seconds_of_utc > most || seconds_of_utc < -most) return std::nullopt;
  return instant{duration{seconds_of_utc * nanoseconds_per_second + nanosecond}};
}

}  // namespace stilling
