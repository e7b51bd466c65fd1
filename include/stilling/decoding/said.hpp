// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#pragma once

#include <array>
#include <cstdint>
#include <string_view>

#include "stilling/decoding/fields.hpp"

/// What the person at the burner said in a note: one of the known words, in any case of letters,
/// and what follows them; everything else is kept as a remark. `adjusted air a quarter turn`,
/// `smoke 2`, `smoke trace`, `draft zeroed`.
namespace stilling {

enum class saying : std::uint8_t {
  remark,          // anything else
  fresh_air,       // the probe is in clean ambient air
  probe_in,        // it is in the flue
  draft_zeroed,    // the gauge, with its hose open
  adjusted_air,    // the air shutter moved
  adjusted_draft,  // the draft regulator moved
  smoke,           // a smoke spot was drawn
  oil_spot,        // its paper is yellow and oily
  burner_on,
  burner_off,
  reading,         // a reading was taken by hand
};

struct said {
  saying what = saying::remark;
  int smoke = 0;       // 0 to 9, of a smoke spot
  bool trace = false;  // the spot is there, and less than 1
  std::string_view rest{};  // the person's own words behind the known ones, trimmed
  friend constexpr bool operator==(const said&, const said&) = default;
};

namespace saying_words {

struct known {
  std::string_view words;
  saying what;
};
inline constexpr std::array<known, 10> table{{
    {"fresh air", saying::fresh_air},
    {"probe in", saying::probe_in},
    {"draft zeroed", saying::draft_zeroed},
    {"adjusted air", saying::adjusted_air},
    {"adjusted draft", saying::adjusted_draft},
    {"oil spot", saying::oil_spot},
    {"burner on", saying::burner_on},
    {"burner off", saying::burner_off},
    {"reading", saying::reading},
    {"remark", saying::remark},
}};

/// Whether `text` begins with `words`, as whole words.
[[nodiscard]] constexpr bool begins_with(std::string_view text, std::string_view words) noexcept {
  if (text.size() < words.size()) return false;
  for (std::size_t i = 0; i < words.size(); ++i) {
    const char c = text[i] >= 'A' && text[i] <= 'Z' ? static_cast<char>(text[i] + 32) : text[i];
    if (c != words[i]) return false;
  }
  if (text.size() == words.size()) return true;
  const char next = text[words.size()];
  return !(next >= 'a' && next <= 'z') && !(next >= 'A' && next <= 'Z') &&
         !(next >= '0' && next <= '9');
}

}  // namespace saying_words

/// Of a note's text, without its `#` and its time. A smoke number outside 0 to 9 is a remark.
[[nodiscard]] constexpr said what_was_said(std::string_view text) noexcept {
  using saying_words::begins_with;
  const auto behind_of = [&](std::size_t n) {
    std::string_view rest = trimmed(text.substr(n));
    while (!rest.empty() && (rest.front() == ':' || rest.front() == ',')) rest.remove_prefix(1);
    return trimmed(rest);
  };
  text = trimmed(text);
  for (const auto& k : saying_words::table)
    if (begins_with(text, k.words)) return {k.what, 0, false, behind_of(k.words.size())};
  if (begins_with(text, "smoke")) {
    const auto spot = behind_of(5);
    if (begins_with(spot, "trace")) return {saying::smoke, 0, true, trimmed(spot.substr(5))};
    if (!spot.empty() && spot.front() >= '0' && spot.front() <= '9' &&
        begins_with(spot, spot.substr(0, 1)))
      return {saying::smoke, spot.front() - '0', false, trimmed(spot.substr(1))};
  }
  return {saying::remark, 0, false, text};
}

}  // namespace stilling
