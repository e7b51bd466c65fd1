// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#pragma once

#include <cstdint>
#include <optional>
#include <string_view>

#include "stilling/items/frame.hpp"

/// What is known about the row just seen: per channel its trend and whether that is within the
/// limit, for the whole appliance its phase. Every row gets one verdict, from itself and earlier
/// rows only.
namespace stilling {

enum class judgement : std::uint8_t {
  undecided,  // not enough seen, or too noisy, to say either
  transient,  // shown to move faster than its limit, or shown to have left its level
  steady,     // shown to move no faster than its limit
};

[[nodiscard]] constexpr std::string_view name_of(judgement j) noexcept {
  constexpr std::string_view names[]{"undecided", "transient", "steady"};
  return names[static_cast<std::size_t>(j)];
}

/// The trend of one channel over the window its noise asked for. Canonical units, per second.
struct trend_estimate {
  judgement is = judgement::undecided;
  bool measured = false;           // false: rate and what follows are unknown, not zero
  bool within = false;             // the rate itself is at most the limit, and not contradicted
  bool contradicted = false;       // a shorter window shows more than the limit
  double level = 0;                // the trend line at the newest row
  double rate = 0;                 // least-squares slope over `span`
  double rate_uncertainty = 0;     // its standard uncertainty, autocorrelation included
  double rate_bound = 0;           // upper bound of |rate| at the stated confidence
  std::optional<double> long_rate; // the same over the longest window, while steady
  double long_rate_bound = 0;
  double long_span = 0;            // seconds that window covers
  double span = 0;                 // seconds the window covers
  double spacing = 0;              // seconds between its values, on average
  double scatter = 0;              // standard deviation about the trend line
  double inflation = 1;            // variance inflation by autocorrelation, (1 + r)/(1 - r)
  double noise_density = 0;        // variance of a mean over T seconds is this / T
  std::optional<double> remaining;  // rise still to come if the approach is exponential
  double noise_freedom = 0;        // degrees of freedom of that, roughly
  std::optional<double> period;    // seconds, where the channel swings and was judged in the mean
  double amplitude = 0;            // of that swing
  double step = 0;                 // display step, as seen in the stream; 0: none seen
  std::optional<double> lag;       // seconds behind the stack temperature, where that was shown
  std::optional<instant> since;    // first row of the window that proved it steady
  std::optional<instant> departed; // first row of the departure, in the row that proves it
  friend constexpr bool operator==(const trend_estimate&, const trend_estimate&) = default;
};

/// Where the appliance, or the instrument, is in the course of a test.
enum class phase : std::uint8_t {
  no_data, instrument_warm_up, fresh_air, idle, appliance_warm_up, settling, steady, disturbed,
  cooling,
};

[[nodiscard]] constexpr std::string_view name_of(phase p) noexcept {
  constexpr std::string_view names[]{"no_data",  "instrument_warm_up", "fresh_air",
                                     "idle",     "appliance_warm_up",  "settling",
                                     "steady",   "disturbed",          "cooling"};
  return names[static_cast<std::size_t>(p)];
}

/// Why a phase began, or a plateau ended.
enum class cause : std::uint8_t {
  none,
  first_row,          // the log begins
  oxygen_at_air,      // O2 at air level, no heat in the flue: the probe is in fresh air or no fire
  fire_seen,          // O2 well below air and the flue warmer than the room
  within_limits,      // every required channel shown to be within its limit
  near_limits,        // the trend is within reach of its limit, proof is still out
  departed,           // a required channel left its level
  burner_off,         // O2 back at air level while the flue cools slowly
  probe_out,          // O2 back at air level and the flue temperature gone at once
  diluted,            // O2 up, CO and temperature down together as by mixing with air
  stage_change,       // another firing stage
  stuck,              // a required channel stands still against its own earlier noise
  gap,                // nothing usable was heard for too long
  stream_broke,       // the clock or the layout broke
  end_of_log,
  said,               // by the person at the burner
  complete,           // the time a rule asks for is over
  drift_in_step,      // unrelated channels drift with one time constant: it is the instrument
};

[[nodiscard]] constexpr std::string_view name_of(cause c) noexcept {
  constexpr std::string_view names[]{"none",         "first_row",  "oxygen_at_air", "fire_seen",
                                     "within_limits", "near_limits", "departed",     "burner_off",
                                     "probe_out",    "diluted",    "stage_change",  "stuck",
                                     "gap",          "break",      "end_of_log",    "said",
                                     "complete",     "drift_in_step"};
  return names[static_cast<std::size_t>(c)];
}

struct phase_change {
  instant at{};
  std::uint64_t line = 0;
  phase from = phase::no_data;
  phase to = phase::no_data;
  cause why = cause::none;
  std::optional<channel> which;  // the channel that decided, where one did
  friend constexpr bool operator==(const phase_change&, const phase_change&) = default;
};

/// What the rows so far say about the fire. Filled in by the fire stage.
struct fire_state {
  bool burning = false;
  bool has_burned = false;           // in this segment
  std::optional<instant> out_since;  // first row back at air level
  std::optional<double> oxygen;      // newest usable, mol/mol
  std::optional<double> net;         // stack above ambient, newest usable, K
  friend constexpr bool operator==(const fire_state&, const fire_state&) = default;
};

/// One burn: from the last row without a fire to the last row of it; open where the log ends first.
struct burn {
  instant from{};
  std::optional<instant> to;
  lanes<double> peak;  // highest stack_temp, co, co2, no, until it was seen to be out
  lanes<double> last;  // stack_temp, o2, co at its last row, or at the newest where it is open
  friend constexpr bool operator==(const burn&, const burn&) = default;
};

struct verdict {
  frame row;
  lanes<trend_estimate> trends;  // a lane for every channel seen so far in this segment
  fire_state fire;
  phase in = phase::no_data;     // filled in by the phase stage
  cause why = cause::none;       // what made the phase what it is
  bool explained = true;         // what ended the last steady phase is known as well as it will be
  std::optional<instant> onset;  // where the steady phase ends: first row of what ended it
  std::optional<channel> which;
};

}  // namespace stilling
