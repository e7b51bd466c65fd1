// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#include "text_words.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cstdint>

namespace stilling::writing {
namespace {

/// Before this a time is one since the log began, not a date; seconds, March 1973.
constexpr std::int64_t least_calendar_time = 100'000'000;

std::int64_t whole_seconds(instant t) noexcept {
  const std::int64_t ns = t.time_since_epoch().count();
  return ns / nanoseconds_per_second - (ns % nanoseconds_per_second < 0 ? 1 : 0);
}

constexpr std::array<std::string_view, channel_count> labels{
    "stack temperature", "combustion air", "O2", "CO2", "CO", "NO",
    "draft at breech",   "draft over fire"};

}  // namespace

std::string clock_of(instant t) {
  std::int64_t s = whole_seconds(t);
  if (s >= least_calendar_time) {
    s %= 86'400;
    return fmt::format("{:02}:{:02}:{:02}", s / 3600, s / 60 % 60, s % 60);
  }
  const std::string_view sign = s < 0 ? "-" : "";
  if (s < 0) s = -s;
  if (s < 3600) return fmt::format("{}{}:{:02}", sign, s / 60, s % 60);
  return fmt::format("{}{}:{:02}:{:02}", sign, s / 3600, s / 60 % 60, s % 60);
}

namespace {

/// What the wall clock shows, as if that were UTC.
instant by_the_wall(instant t, const presentation& as) {
  const std::int64_t s = whole_seconds(t);
  if (s < least_calendar_time || as.clock.offset_at == nullptr) return t;
  return t + seconds(as.clock.offset_at(as.clock.zone, s));
}

}  // namespace

std::string clock_of(instant t, const presentation& as) { return clock_of(by_the_wall(t, as)); }

std::string date_of(instant t, const presentation& as) {
  constexpr std::array<std::string_view, 12> months{
      "January", "February", "March",     "April",   "May",      "June",
      "July",    "August",   "September", "October", "November", "December"};
  const std::int64_t s = whole_seconds(by_the_wall(t, as));
  if (s < least_calendar_time) return {};
  const std::chrono::year_month_day day{
      std::chrono::sys_days{std::chrono::days{static_cast<int>(s / 86'400)}}};
  return fmt::format("{} {} {}", static_cast<unsigned>(day.day()),
                     months[static_cast<unsigned>(day.month()) - 1], static_cast<int>(day.year()));
}

std::string_view label_of(channel c) noexcept { return labels[index_of(c)]; }

std::string_view word_of(std::string_view unit_name) noexcept {
  if (unit_name == "degF") return "°F";
  if (unit_name == "degC") return "°C";
  if (unit_name == "pct") return "%";
  if (unit_name == "fraction") return "mol/mol";
  if (unit_name == "mol_per_kg") return "mol/kg";
  if (unit_name == "J_per_mol_K") return "J/(mol K)";
  return unit_name;
}

std::size_t width_of(std::string_view text) noexcept {
  return static_cast<std::size_t>(std::ranges::count_if(
      text, [](char c) { return (static_cast<unsigned char>(c) & 0xC0U) != 0x80; }));
}

void append_course(std::string& to, instant t, std::string_view kind, std::string_view sentence) {
  constexpr std::size_t indent = 11, width = 80;
  to += fmt::format("{:>9}  {}:", clock_of(t), kind);
  std::size_t at = indent + kind.size() + 1;
  while (!sentence.empty()) {
    const auto word = sentence.substr(0, sentence.find(' '));
    sentence.remove_prefix(std::min(word.size() + 1, sentence.size()));
    if (at + 1 + width_of(word) > width) {
      (to += '\n').append(indent, ' ');
      at = indent;
    } else {
      to += ' ', ++at;
    }
    to += word;
    at += width_of(word);
  }
  to += '\n';
}

}  // namespace stilling::writing
