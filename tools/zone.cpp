// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#include "zone.hpp"

#include <date/tz.h>
#include <fmt/format.h>

#include <chrono>
#include <stdexcept>
#include <string>
#include <vector>

#include "typed.hpp"

namespace stilling::command {
namespace {

zone_offsets offsets_in(const void* zone, std::int64_t local_seconds) noexcept {
  const auto found = static_cast<const date::time_zone*>(zone)->get_info(
      date::local_seconds{std::chrono::seconds{local_seconds}});
  const auto before = static_cast<std::int32_t>(found.first.offset.count());
  const auto after = static_cast<std::int32_t>(found.second.offset.count());
  return {before, found.result == found.ambiguous ? after : before};
}

std::int32_t offset_at(const void* zone, std::int64_t unix_seconds) noexcept {
  const auto found = static_cast<const date::time_zone*>(zone)->get_info(
      date::sys_seconds{std::chrono::seconds{unix_seconds}});
  return static_cast<std::int32_t>(found.offset.count());
}

/// What stands behind the last stroke: people remember the city.
std::string_view city_of(std::string_view name) { return name.substr(name.rfind('/') + 1); }

std::string near_names(std::string name) {
  for (char& c : name)
    if (c == ' ') c = '_';
  std::vector<std::string_view> all, cities;
  for (const auto& zone : date::get_tzdb().zones) {
    all.push_back(zone.name());
    cities.push_back(city_of(zone.name()));
  }
  if (const auto whole = nearest(name, all); !whole.empty()) return std::string{whole};
  const auto city = nearest(city_of(name), cities);
  std::string found;
  for (const auto zone : all)
    if (!city.empty() && city_of(zone) == city) (found += found.empty() ? "" : " or ") += zone;
  return found;
}

}  // namespace

void read_in_zone(decoder_settings& to, std::string_view name) {
  try {
    const auto* zone = date::locate_zone(std::string{name});
    // Reads the zone's file, so that nothing can fail later.
    static_cast<void>(zone->get_info(date::local_seconds{}));
    to.zone_offsets_at = offsets_in;
    to.zone = zone;
    return;
  } catch (const std::exception&) {
    // Said below, with what to do.
  }
  std::string near;
  try {
    near = near_names(std::string{name});
  } catch (const std::exception&) {
    throw refusal{"there is no time zone database; install the package tzdata"};
  }
  throw refusal{fmt::format("'{}' is no time zone; {}", name,
                            near.empty() ? "write one such as America/New_York or Europe/Berlin"
                                         : fmt::format("did you mean {}?", near))};
}

wall_clock clock_of_zone(const decoder_settings& read, std::string_view name) {
  if (read.zone == nullptr) return {};
  return {offset_at, read.zone, std::string{name}};
}

}  // namespace stilling::command
