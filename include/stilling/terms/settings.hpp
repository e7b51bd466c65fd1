// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#pragma once

#include <algorithm>
#include <array>
#include <cstddef>
#include <cstdint>
#include <optional>

#include "stilling/terms/channel.hpp"
#include "stilling/terms/decoder_settings.hpp"
#include "stilling/terms/reading_rule.hpp"
#include "stilling/terms/setting_fault.hpp"
#include "stilling/terms/time.hpp"
#include "stilling/terms/timeline_settings.hpp"

/// Every adjustable number of the chain, with default, unit, bounds and source. One aggregate per
/// stage; `check()` says which one makes no sense. Rates are canonical units per second; the words
/// "per minute" belong to the doors.
namespace stilling {

/// How fast each channel may move and still be called steady. Stack temperature 3 degF/min, O2
/// 0.1 %/min, CO 5 ppm/min: common practice, no published source. The others follow the same
/// scale, so that they can be required too.
struct rate_limits {
  std::array<double, channel_count> per_second{
      3 / 1.8 / 60,          // stack_temp: 3 degF/min
      3 / 1.8 / 60,          // ambient_temp
      0.001 / 60,            // o2: 0.1 %/min
      0.001 / 60,            // co2
      5e-6 / 60,             // co: 5 ppm/min
      5e-6 / 60,             // no
      1.2454445 / 60,        // draft_breech: 0.005 inH2O/min
      1.2454445 / 60,        // draft_overfire
  };
  [[nodiscard]] constexpr double of(channel c) const noexcept { return per_second[index_of(c)]; }
};

struct screen_settings {
  double outlier_factor = 4;   // in robust standard deviations of the neighbourhood; >= 2
  std::uint32_t history = 9;   // rows the neighbourhood holds; 5 to 15
  // Below this distance nothing is called an outlier, however still the neighbours: one minute's
  // allowance, as in rate_limits.
  rate_limits floor{};
  // A channel that used to dither is stuck once so many changes are overdue; >= 2.
  double overdue_changes = 4;
};

struct steadiness_settings {
  rate_limits limits{};
  double claim_factor = 1.5;   // proven below this multiple of the limit; 1: the limit itself
  double release_factor = 1.25;  // released when proven above this multiple of the limit
  double confidence = 0.95;    // one-sided; 0.95, 0.975 or 0.99
  std::array<double, 4> spans{60, 90, 120, 180};  // seconds, rising: windows to choose from
  double least_cover = 0.9;    // share of a window that must have been seen
  double longest_gap = 0.25;   // share of a window that may be missing in one piece
  std::uint32_t least_count = 6;   // values in a window
  double precision = 0.5;      // a window is precise enough at this share of the limit; > 0
  double resolution_weight = 0.25;  // share of the worst case 1.5 step/window a display that does
                                    // not dither adds to the bound; 0 to 1
  bool by_course = false;      // claims by how the rate has fallen, where the past is long enough
  double departure = 1.25;     // in minutes of the limit: how far is away; > 0
  double departure_sigmas = 7.5;  // in standard deviations of the mean of its rows: likewise
  duration persistence = seconds(3);  // a departure lasts at least so long, and two rows
};

struct phase_settings {
  channel_set required{channel::stack_temp, channel::o2, channel::co};
  bool combustion_check = true;      // ask for a fire and an undiluted probe before settling
  double fire_oxygen = 0.175;        // mol/mol: below it something burns; common practice
  double air_oxygen = 0.190;         // mol/mol: above it nothing burns; common practice
  double fire_net_temperature = 25;  // K: a flue this much warmer than the room is lit
  duration dwell = seconds(6);       // all channels within limits; never steady in a first minute
  duration gap = seconds(60);        // silence that ends a phase
};

struct plateau_settings {
  channel_set required{channel::stack_temp, channel::o2, channel::co};
  duration gap = seconds(60);        // silence that ends a plateau
  duration naming = seconds(90);     // wait at most so long for the cause of an end
  rate_limits limits{};              // to tell creeping: half the limit, proven
};

struct session_settings {
  decoder_settings decoder{};
  timeline_settings timeline{};
  screen_settings screen{};
  steadiness_settings steadiness{};
  phase_settings phase{};
  plateau_settings plateau{};
  reading_rule rule{};  // where there is one, it says what settled is, not the rates

  /// All required channels at once, for the two stages that need to know.
  constexpr void require(channel_set cs) noexcept { phase.required = plateau.required = cs; }
  constexpr void limit(channel c, double per_second) noexcept {
    steadiness.limits.per_second[index_of(c)] = per_second;
    plateau.limits.per_second[index_of(c)] = per_second;
  }
  /// Of a rule about readings. They are proof enough, and silence between two of them ends nothing.
  constexpr void judge_by(const reading_rule& r) noexcept {
    rule = r;
    if (!r.is_series()) return;
    if (!r.allowed.valid.empty()) require(r.allowed.valid);
    phase.dwell = duration{0};
    const duration longest = r.longest_apart();
    phase.gap = std::max(phase_settings{}.gap, longest + punctuality(longest));
    plateau.gap = phase.gap;
  }
};

/// Criterion `strict`: 95 % sure to be under the limit itself.
[[nodiscard]] constexpr session_settings strict_settings() noexcept {
  session_settings s;
  s.steadiness.claim_factor = 1;
  s.steadiness.by_course = true;
  s.steadiness.spans = {165, 180, 210, 240};  // a proof on a ramp looked at for long needs them
  s.steadiness.precision = 0.2;
  s.phase.dwell = duration{0};  // the windows are long enough
  s.steadiness.release_factor = 1;
  s.steadiness.resolution_weight = 1;
  return s;
}

[[nodiscard]] constexpr std::optional<setting_fault> check(const session_settings& s) noexcept {
  const auto positive = [](double x) { return x > 0 && x < 1e12; };
  if (s.decoder.interval && *s.decoder.interval <= duration{0})
    return setting_fault{"decoder.interval", "above 0 s"};
  if (s.timeline.longest_silence <= duration{0})
    return setting_fault{"timeline.longest_silence", "above 0 s"};
  if (s.timeline.spacing && *s.timeline.spacing <= duration{0})
    return setting_fault{"timeline.spacing", "above 0 s"};
  if (s.timeline.hold && *s.timeline.hold <= duration{0})
    return setting_fault{"timeline.hold", "above 0 s"};
  if (!(s.screen.outlier_factor >= 2)) return setting_fault{"screen.outlier_factor", "2 or more"};
  if (s.screen.history < 5 || s.screen.history > 15)
    return setting_fault{"screen.history", "5 to 15 rows"};
  if (!(s.screen.overdue_changes >= 2)) return setting_fault{"screen.overdue_changes", "2 or more"};
  for (auto floor : s.screen.floor.per_second)
    if (!(floor >= 0 && floor < 1e12)) return setting_fault{"screen.floor", "0 or more"};
  for (auto limit : s.steadiness.limits.per_second)
    if (!positive(limit)) return setting_fault{"steadiness.limits", "above 0"};
  if (!(s.steadiness.claim_factor >= 1 && s.steadiness.claim_factor <= 3))
    return setting_fault{"steadiness.claim_factor", "1 to 3"};
  if (!(s.steadiness.release_factor >= 1 && s.steadiness.release_factor <= 3))
    return setting_fault{"steadiness.release_factor", "1 to 3"};
  if (!(s.steadiness.confidence == 0.95 || s.steadiness.confidence == 0.975 ||
        s.steadiness.confidence == 0.99))
    return setting_fault{"steadiness.confidence", "0.95, 0.975 or 0.99"};
  for (std::size_t i = 0; i < s.steadiness.spans.size(); ++i) {
    if (!(s.steadiness.spans[i] >= 10 && s.steadiness.spans[i] <= 3600))
      return setting_fault{"steadiness.spans", "10 to 3600 seconds"};
    if (i > 0 && !(s.steadiness.spans[i] >= s.steadiness.spans[i - 1]))
      return setting_fault{"steadiness.spans", "in rising order"};
  }
  if (!(s.steadiness.least_cover > 0.5 && s.steadiness.least_cover <= 1))
    return setting_fault{"steadiness.least_cover", "above 0.5, at most 1"};
  if (!(s.steadiness.longest_gap > 0 && s.steadiness.longest_gap <= 1))
    return setting_fault{"steadiness.longest_gap", "above 0, at most 1"};
  if (s.steadiness.least_count < 4) return setting_fault{"steadiness.least_count", "4 or more"};
  if (!positive(s.steadiness.precision)) return setting_fault{"steadiness.precision", "above 0"};
  if (!(s.steadiness.resolution_weight >= 0 && s.steadiness.resolution_weight <= 1))
    return setting_fault{"steadiness.resolution_weight", "0 to 1"};
  if (!positive(s.steadiness.departure)) return setting_fault{"steadiness.departure", "above 0"};
  if (!(s.steadiness.departure_sigmas >= 1))
    return setting_fault{"steadiness.departure_sigmas", "1 or more"};
  if (s.steadiness.persistence < duration{0})
    return setting_fault{"steadiness.persistence", "0 s or more"};
  if (s.phase.required.empty()) return setting_fault{"phase.required", "at least one channel"};
  if (!(s.phase.required == s.plateau.required))
    return setting_fault{"plateau.required", "the same channels as phase.required"};
  if (!(s.phase.fire_oxygen < s.phase.air_oxygen))
    return setting_fault{"phase.fire_oxygen", "below phase.air_oxygen"};
  if (!positive(s.phase.fire_net_temperature))
    return setting_fault{"phase.fire_net_temperature", "above 0 K"};
  if (s.phase.dwell < duration{0}) return setting_fault{"phase.dwell", "0 s or more"};
  if (s.phase.gap <= duration{0}) return setting_fault{"phase.gap", "above 0 s"};
  if (s.plateau.gap != s.phase.gap) return setting_fault{"plateau.gap", "the same as phase.gap"};
  if (s.plateau.naming < duration{0}) return setting_fault{"plateau.naming", "0 s or more"};
  for (auto limit : s.plateau.limits.per_second)
    if (!positive(limit)) return setting_fault{"plateau.limits", "above 0"};
  if (const auto fault = check(s.rule)) return fault;
  if (s.rule.is_series() && !s.rule.allowed.valid.includes(s.phase.required))
    return setting_fault{"phase.required", "among the channels the criterion has a tolerance for"};
  return std::nullopt;
}

}  // namespace stilling
