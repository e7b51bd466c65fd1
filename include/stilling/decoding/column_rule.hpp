// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#pragma once

#include <optional>
#include <string_view>

#include "stilling/decoding/spelling.hpp"
#include "stilling/terms/decoder_settings.hpp"

/// What a person writes to say what a column is: `Flue T=stack_temp:degF`, `epoch=time:ms`,
/// `Date+Clock=time`, `O2 dry=o2` where the log names the unit elsewhere. The last `=` parts the
/// two sides, so a name may hold one.
namespace stilling {

[[nodiscard]] constexpr std::optional<channel> find_channel(std::string_view name) noexcept {
  for (auto c : all_channels)
    if (traits_of(c).name == name) return c;
  return std::nullopt;
}

/// None where the text is no rule: no `=`, no such channel, a unit that is none of it, a name that
/// is empty or too long.
[[nodiscard]] constexpr std::optional<column_rule> read_column_rule(
    std::string_view text) noexcept {
  constexpr auto none = std::string_view::npos;
  const auto equals = text.rfind('=');
  if (equals == none) return std::nullopt;
  auto name = trimmed(text.substr(0, equals));
  const auto meaning = trimmed(behind(text, equals + 1));
  const auto colon = meaning.find(':');
  const auto word = trimmed(meaning.substr(0, colon));
  const auto unit_text = colon == none ? std::string_view{} : trimmed(behind(meaning, colon + 1));
  if (colon != none && unit_text.empty()) return std::nullopt;

  column_rule out;
  out.is_time = word == "time";
  if (out.is_time) {
    if (const auto plus = name.rfind('+'); plus != none && plus > 0 && plus + 1 < name.size()) {
      const auto clock_name = trimmed(behind(name, plus + 1));
      if (!decltype(out.clock_name)::fits(clock_name)) return std::nullopt;
      out.clock_name = clock_name;
      name = trimmed(name.substr(0, plus));
    }
    out.in = find_time_unit(unit_text);
    if (!unit_text.empty() && !out.in) return std::nullopt;
  } else {
    const auto c = find_channel(word);
    if (!c) return std::nullopt;
    out.measurand = *c;
    out.as = recognise_unit(unit_text, traits_of(*c).kind);
    if (!unit_text.empty() && !out.as) return std::nullopt;
  }
  if (name.empty() || !decltype(out.name)::fits(name)) return std::nullopt;
  out.name = name;
  return out;
}

}  // namespace stilling
