// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#pragma once

#include <algorithm>
#include <array>
#include <cstddef>
#include <cstdint>
#include <optional>
#include <string_view>

#include "stilling.h"
#include "stilling/session.hpp"

/// Items to plain structs and rows back, field by field: a face has no opinion of its own.
namespace stilling::c_face {

inline constexpr std::array<double stilling_values::*, channel_count> value_of{
    &stilling_values::stack_temp_K,  &stilling_values::ambient_temp_K,
    &stilling_values::o2_fraction,   &stilling_values::co2_fraction,
    &stilling_values::co_fraction,   &stilling_values::no_fraction,
    &stilling_values::draft_breech_Pa, &stilling_values::draft_overfire_Pa};
inline constexpr std::array<stilling_channel_reading stilling_readings::*, channel_count>
    reading_of{&stilling_readings::stack_temp_K,  &stilling_readings::ambient_temp_K,
               &stilling_readings::o2_fraction,   &stilling_readings::co2_fraction,
               &stilling_readings::co_fraction,   &stilling_readings::no_fraction,
               &stilling_readings::draft_breech_Pa, &stilling_readings::draft_overfire_Pa};

[[nodiscard]] constexpr std::int64_t in_nanoseconds(instant t) noexcept {
  return t.time_since_epoch().count();
}
[[nodiscard]] constexpr std::uint32_t bit_of(channel c) noexcept { return 1U << index_of(c); }

/// Where `from` holds a value it goes into `to`, and the flag beside it says so.
template <class Flag, class T, class U>
constexpr void tell(const std::optional<T>& from, Flag& has, U& to, U scale = 1) noexcept {
  if (!from) return;
  has = 1;
  to = *from * scale;
}
template <class Flag>
constexpr void tell(const std::optional<instant>& from, Flag& has, std::int64_t& to) noexcept {
  if (!from) return;
  has = 1;
  to = in_nanoseconds(*from);
}

/// What is there, and its bits.
[[nodiscard]] inline std::uint32_t tell(const lanes<double>& from, stilling_values& to) noexcept {
  std::uint32_t has = 0;
  for (const channel c : all_channels) {
    if (!from.has(c)) continue;
    to.*value_of[index_of(c)] = from[c];
    has |= bit_of(c);
  }
  return has;
}

[[nodiscard]] inline stilling_text text_of(std::string_view from) noexcept {
  stilling_text t{};
  t.size = static_cast<std::uint32_t>(std::min<std::size_t>(from.size(), STILLING_TEXT_SIZE));
  t.left_out = static_cast<std::uint32_t>(from.size()) - t.size;
  std::copy_n(from.data(), t.size, t.letters);
  return t;
}

[[nodiscard]] inline stilling_channel_reading to_c(const channel_reading& r) noexcept {
  constexpr double minute = 60;
  stilling_channel_reading c{};
  c.is_there = 1;
  c.value = r.mean, c.u = 2 * r.standard_uncertainty;
  c.degrees_of_freedom = r.degrees_of_freedom;
  tell(r.rate_bound, c.has_rate, c.rate_bound_per_min, minute);
  if (r.rate_bound) c.rate_per_min = minute * r.rate;
  tell(r.remaining, c.has_remaining, c.remaining);
  tell(r.peak, c.has_peak, c.peak);
  tell(r.lag, c.has_lag_s, c.lag_s);
  if (r.step > 0) c.has_step = 1, c.step = r.step;
  c.coverage = r.coverage, c.longest_gap_s = r.longest_gap;
  c.n = r.count, c.n_effective = r.effective_count, c.set_aside = r.set_aside;
  return c;
}

inline void to_c(const settled_reading& r, stilling_plateau& p) noexcept {
  p.declared_ns = in_nanoseconds(r.declared), p.from_ns = in_nanoseconds(r.from);
  p.last_seen_ns = in_nanoseconds(r.last_seen);
  tell(r.to, p.has_to, p.to_ns);
  tell(r.released, p.has_released, p.released_ns);
  p.end_reason = static_cast<std::uint8_t>(r.ended);
  p.creeping = r.creeping ? 1 : 0;
  if (r.hunting) {
    p.hunting = 1;
    p.period_s = r.hunting->period;
    p.has_amplitude = tell(r.hunting->amplitude, p.amplitude);
  }
  for (const channel c : all_channels)
    if (r.channels.has(c)) p.readings.*reading_of[index_of(c)] = to_c(r.channels[c]);
}

[[nodiscard]] inline stilling_phase to_c(const phase_change& x) noexcept {
  stilling_phase p{};
  p.time_ns = in_nanoseconds(x.at), p.line = x.line;
  p.from = static_cast<std::uint8_t>(x.from), p.phase = static_cast<std::uint8_t>(x.to);
  p.reason = static_cast<std::uint8_t>(x.why);
  if (x.which) p.has_which = 1, p.which = static_cast<std::uint8_t>(*x.which);
  return p;
}
[[nodiscard]] inline stilling_burn to_c(const burn& x) noexcept {
  stilling_burn b{};
  b.from_ns = in_nanoseconds(x.from);
  tell(x.to, b.has_to, b.to_ns);
  b.has_peak = tell(x.peak, b.peak);
  b.has_last = tell(x.last, b.last);
  return b;
}
[[nodiscard]] inline stilling_note to_c(const note& x) noexcept {
  stilling_note n{};
  n.line = x.line, n.text = text_of(x.text);
  tell(x.at, n.has_time, n.time_ns);
  return n;
}
[[nodiscard]] inline stilling_break to_c(const discontinuity& x) noexcept {
  return {in_nanoseconds(x.at), x.line, static_cast<std::uint64_t>(x.kind)};
}
[[nodiscard]] inline stilling_rejection to_c(const rejection& x) noexcept {
  return {x.line, static_cast<std::uint32_t>(x.what), x.field, text_of(x.seen)};
}
[[nodiscard]] inline stilling_assumption to_c(const assumption& x) noexcept {
  return {x.line, static_cast<std::uint32_t>(x.what), x.field, text_of(x.seen)};
}
[[nodiscard]] inline stilling_layout to_c(const layout& x) noexcept {
  stilling_layout l{};
  for (const auto& c : x)
    l.columns[l.count++] = {c.field, static_cast<std::uint8_t>(c.measurand),
                            static_cast<std::uint8_t>(c.as)};
  return l;
}

}  // namespace stilling::c_face
