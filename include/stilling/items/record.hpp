// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#pragma once

#include <cstdint>
#include <optional>
#include <string_view>

#include "stilling/terms/time.hpp"

/// What flows besides measurements: a framed line, a line that could not be used, a break in the
/// stream, a note by the person at the burner. Views live until the push that carries them returns.
namespace stilling {

/// One line, without its end. `text` is raw bytes, not yet any encoding's letters.
struct record {
  std::uint64_t line = 0;  // 1 for the first line of the stream
  std::string_view text{};
  bool cut = false;           // longer than the framer can hold: the tail is missing
  bool unterminated = false;  // the stream stopped before the line's end
  std::uint32_t padding = 0;  // NUL bytes passed over before it
};

enum class fault : std::uint8_t {
  line_too_long,    // longer than the framer's capacity
  not_text,         // control bytes or an encoding error
  too_few_fields,   // fewer fields than the layout has columns
  too_many_fields,  // more fields than the layout has columns
  no_time,          // the time field is empty
  bad_time,         // the time field is no time, or out of range
  bad_number,       // a field is neither number, blank nor marker
  ambiguous_number, // a comma or dot that could part decimals or thousands
  no_layout,        // a row before any header, and no layout was given
  no_unit,          // a column whose unit nothing tells: its values are not used
  incomplete,       // a first or last line that was cut off
  repeated,         // the same stamp and the same values as the row before
  ambiguous_time,   // a date that could be two days: 03/04/2026
};
inline constexpr std::size_t fault_count = 13;

[[nodiscard]] constexpr std::string_view name_of(fault f) noexcept {
  constexpr std::string_view names[fault_count]{
      "line_too_long", "not_text", "too_few_fields", "too_many_fields", "no_time",
      "bad_time", "bad_number", "ambiguous_number", "no_layout", "no_unit", "incomplete",
      "repeated", "ambiguous_time"};
  return names[static_cast<std::size_t>(f)];
}

/// A line that could not be used, or only in part. `field` counts from 1; 0 means the whole line.
struct rejection {
  std::uint64_t line = 0;
  fault what = fault::bad_number;
  std::uint16_t field = 0;
  std::string_view seen{};  // the offending text, cut to what fits
};

enum class break_kind : std::uint8_t {
  clock_back, clock_jump, repeat, new_header, new_units, restart, reconnect
};

[[nodiscard]] constexpr std::string_view name_of(break_kind k) noexcept {
  constexpr std::string_view names[]{"clock_back", "clock_jump", "repeat",   "new_header",
                                     "new_units",  "restart",    "reconnect"};
  return names[static_cast<std::size_t>(k)];
}

/// The stream's clock or layout broke: nothing after it may lean on anything before it.
struct discontinuity {
  std::uint64_t line = 0;
  instant at{};  // the first stamp after the break (before, where there is none yet)
  break_kind kind = break_kind::restart;
};

/// A remark by the person at the burner, as typed, without the `#`.
struct note {
  std::uint64_t line = 0;
  std::optional<instant> at{};  // its own time where it names one; else that of the row after it
  std::string_view text{};
};

}  // namespace stilling
