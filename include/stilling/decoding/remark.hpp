// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#pragma once

#include <optional>
#include <string_view>

#include "stilling/decoding/fields.hpp"
#include "stilling/decoding/log_clock.hpp"
#include "stilling/items/record.hpp"

/// A note line, `# 312.0 smoke trace`: what was said and, if it says so, when. A time in front is
/// in the form of the log's time column and needs words behind it; `# 2` is a remark.
namespace stilling {

[[nodiscard]] constexpr bool is_note(std::string_view line) noexcept {
  return trimmed(line).starts_with('#');
}

/// `clock` is that of the log, as it stands: a note must not move it.
[[nodiscard]] constexpr note read_note(std::string_view line, log_clock clock,
                                       const decoder_settings& s) noexcept {
  note out{.text = trimmed(behind(trimmed(line), 1))};
  if (out.text.empty() || !detail::is_digit(out.text.front() == '-' ? '0' : out.text.front()))
    if (s.time_format.empty()) return out;
  const auto form = clock.column().form;
  if (form == clock_form::none) return out;
  const auto r = clock.read(out.text, s, [](const assumption&) {});
  // A bare number is a time only where the log's times are numbers.
  if (!r || clock.column().form != form) return out;
  const auto rest = behind(out.text, r->length);
  if (rest.empty() || !is_blank(rest.front()) || trimmed(rest).empty()) return out;
  out.at = r->at;
  out.text = trimmed(rest);
  return out;
}

}  // namespace stilling
