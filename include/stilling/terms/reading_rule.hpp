// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#pragma once

#include <algorithm>
#include <array>
#include <cstddef>
#include <cstdint>
#include <optional>
#include <string_view>

#include "stilling/terms/channel.hpp"
#include "stilling/terms/setting_fault.hpp"
#include "stilling/terms/time.hpp"
#include "stilling/terms/unit.hpp"

/// Rules about readings taken one after another, as standards and laws have them: so many, so far
/// apart, that vary by no more than so much; or one mean over so long, so long after the burner
/// started. The other way to say what settled means, beside the rates of steadiness_settings.
namespace stilling {

/// How far readings vary, as one number.
enum class variation : std::uint8_t {
  range,       // the highest less the lowest
  from_mean,   // the largest distance from their mean
  successive,  // the largest distance from one to the next
};

/// How much they may vary: the larger of the two. Said, and compared, in the unit of the text it
/// comes from: 5 degF is not the 2.8 degC that stands beside it in brackets.
struct tolerance {
  variation of = variation::range;
  unit in = unit::kelvin;
  double absolute = 0;       // in that unit; 0 or more
  double share_of_mean = 0;  // of the readings' mean; 0 to 1; not of a temperature
  friend constexpr bool operator==(const tolerance&, const tolerance&) = default;
};

inline constexpr std::size_t most_readings = 10;

struct reading_rule {
  std::string_view name{};  // of one that is published; empty: one's own
  std::uint32_t readings = 0;  // 0: no such rule; 1: one mean; else so many that must agree
  // From each reading to the next; unused ones are 0. All the same: any so many on end will do.
  std::array<duration, most_readings - 1> apart{};
  duration mean{};     // each reading is a mean over so long; 0: one row
  duration waiting{};  // before the first: since the fire was seen, or since the first row
  lanes<tolerance> allowed;  // a channel that is not in it is not asked about
  bool once = false;         // a series that agrees is the reading, and is not taken further
  bool needs_fire = true;    // judged while a fire burns, where the log can tell
  friend constexpr bool operator==(const reading_rule&, const reading_rule&) = default;

  /// For a stage to keep: a name is for people, and lies elsewhere in memory.
  [[nodiscard]] constexpr reading_rule without_name() const noexcept {
    reading_rule r = *this;
    r.name = {};
    return r;
  }
  [[nodiscard]] constexpr bool is_one_mean() const noexcept { return readings == 1; }
  [[nodiscard]] constexpr bool is_series() const noexcept { return readings > 1; }
  constexpr void set_apart(duration d) noexcept { apart.fill(d); }
  [[nodiscard]] constexpr duration longest_apart() const noexcept {
    duration longest{};
    for (std::size_t i = 0; i + 1 < readings && i < apart.size(); ++i)
      longest = std::max(longest, apart[i]);
    return longest;
  }
  [[nodiscard]] constexpr bool is_even() const noexcept {
    for (std::size_t i = 1; i + 1 < readings; ++i)
      if (apart[i] != apart[0]) return false;
    return true;
  }
};

/// A reading counts as taken in time within this share of the time it is apart from the one
/// before: 15 min to a minute and a half. No text says how exact its times are meant; our own
/// choice.
[[nodiscard]] constexpr duration punctuality(duration apart) noexcept { return apart / 10; }

[[nodiscard]] constexpr std::optional<setting_fault> check(const reading_rule& r) noexcept {
  constexpr duration day = seconds(86'400);
  if (r.readings > most_readings) return setting_fault{"rule.readings", "1 to 10"};
  const bool is_said = r.apart[0] != duration{} || r.mean != duration{} ||
                       r.waiting != duration{} || !r.allowed.valid.empty() || r.once;
  if (r.readings == 0)
    return is_said ? std::optional{setting_fault{"rule", "said together with readings"}}
                   : std::nullopt;
  if (r.waiting < duration{} || r.waiting > day)
    return setting_fault{"rule.waiting", "0 s to 24 h"};
  if (r.mean < duration{} || r.mean > day) return setting_fault{"rule.mean", "0 s to 24 h"};
  if (r.is_one_mean())
    return r.mean > duration{} ? std::nullopt
                               : std::optional{setting_fault{
                                     "rule.readings", "2 or more, or given a mean above 0 s"}};
  for (std::size_t i = 0; i + 1 < r.readings; ++i) {
    if (r.apart[i] <= duration{})
      return setting_fault{"rule.readings", "given a spacing above 0 s for each but the first"};
    if (r.apart[i] > day) return setting_fault{"rule.apart", "24 h at most"};
    if (r.mean > r.apart[i])
      return setting_fault{"rule.mean", "no longer than the readings are apart"};
  }
  if (r.allowed.valid.empty())
    return setting_fault{"rule.readings", "given a tolerance for one channel at least"};
  for (const channel c : all_channels) {
    if (!r.allowed.has(c)) continue;
    const tolerance& t = r.allowed[c];
    if (traits_of(t.in).kind != traits_of(c).kind)
      return setting_fault{"rule.allowed", "in a unit of its channel"};
    if (!(t.absolute >= 0 && t.absolute < 1e12 && t.share_of_mean >= 0 && t.share_of_mean <= 1))
      return setting_fault{"rule.allowed", "0 or more, and a share at most 1"};
    if (t.share_of_mean > 0 && traits_of(c).kind == quantity::temperature)
      return setting_fault{"rule.allowed", "no share of a temperature: its zero is a convention"};
  }
  return std::nullopt;
}

}  // namespace stilling
