// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#pragma once

#include <cstddef>
#include <cstdint>
#include <optional>
#include <string_view>

#include "stilling/terms/channel.hpp"
#include "stilling/terms/time.hpp"

/// What can be found about a test, and what the rows themselves show of how it is done: the state
/// of cells and sensors, the burner's running, a drift.
namespace stilling {

enum class finding_kind : std::uint8_t {
  co_high,
  co_rising,
  co_in_room,
  oxygen_low,
  oxygen_high,
  co2_low,
  co2_high,
  stack_cool,
  stack_hot,
  condensing,
  stack_loss_high,
  efficiency_low,
  draft_overfire_off,
  draft_difference_high,
  draft_not_zeroed,
  draft_sign,
  smoke_high,
  smoke_not_repeated,
  zero_without_trace,
  oil_spot,
  reading_too_early,
  step_missing,
  step_out_of_order,
  instrument_cold,
  oxygen_cell_tired,
  zeroed_in_dirty_air,
  dilution,
  probe_slipped,
  channel_stuck,
  sensor_open,
  creeping,
  hunting,
  short_cycling,
  ambient_drifts,
  wrong_fuel_likely,
};
inline constexpr std::size_t finding_kind_count = 35;

/// A step of the work on a burner test, in the order it is done in.
enum class work_step : std::uint8_t {
  fresh_air, draft_zero, draft, smoke, oxygen, monoxide, reading,
};
[[nodiscard]] constexpr std::string_view name_of(work_step s) noexcept {
  constexpr std::string_view names[]{"fresh_air", "draft_zero", "draft",  "smoke",
                                     "oxygen",    "monoxide",   "reading"};
  return names[static_cast<std::size_t>(s)];
}

/// Noticed while the rows went by. Canonical units; a rate is per second.
struct observation {
  instant at{};            // when it became known
  std::uint64_t line = 0;  // 0: no line
  finding_kind what = finding_kind::channel_stuck;
  channel of = channel::stack_temp;
  bool is_rate = false;
  std::optional<double> value;                 // none: it is not a number
  std::optional<double> standard_uncertainty;  // k = 1; none: unknown
  std::optional<double> limit;                 // none: it has no limit
  std::optional<instant> since;                // when it began, where that is earlier
  std::uint32_t count = 0;                     // rows or burns it is about; 0: not counted
  std::optional<double> period = {};           // s, of a swing; then `value` is its amplitude
  std::optional<work_step> step = {};          // it is about; none: about rows
  std::optional<double> indicated = {};  // what was read, where `value` is what was likely right
  std::optional<double> otherwise = {};  // and what would be, were the zero to blame for it
  friend constexpr bool operator==(const observation&, const observation&) = default;
};

}  // namespace stilling
