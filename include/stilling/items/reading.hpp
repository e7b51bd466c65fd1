// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#pragma once

#include <cstdint>
#include <optional>

#include "stilling/items/verdict.hpp"

/// The measurement result (VIM 2.9): what a channel settled at, with its uncertainty (GUM), over
/// which rows, and what is still doubtful about it. The only thing that crosses from the stages to
/// the functions that make combustion figures of it.
namespace stilling {

/// One channel over [from, to]. Canonical units: kelvin, mol/mol, pascal; rates per second.
struct channel_reading {
  double mean = 0;
  double standard_uncertainty = 0;    // of the mean; k = 1
  double degrees_of_freedom = 0;      // of that uncertainty
  double rate = 0;                    // least-squares slope at the newest look
  std::optional<double> rate_bound;   // upper bound of |rate| at the stated confidence
  std::optional<double> remaining;    // rise still to come if the approach is exponential
  std::optional<double> peak;         // highest indication since the fire was seen
  std::optional<double> lag;          // seconds behind the stack temperature; none: not shown
  std::optional<double> correction;   // part of the mean that was not indicated; none: all was
  double step = 0;                    // display step; 0: none seen
  double coverage = 0;                // usable rows / rows in [from, to]
  double longest_gap = 0;             // seconds without a usable value
  std::uint32_t count = 0;            // values used
  double effective_count = 0;         // as many independent ones
  std::uint32_t set_aside = 0;        // values there but marked, not used
  friend constexpr bool operator==(const channel_reading&, const channel_reading&) = default;
};

/// A swing about the mean, where there is one.
struct oscillation {
  double period = 0;          // seconds, crest to crest
  lanes<double> amplitude;    // half the swing, canonical units
  friend constexpr bool operator==(const oscillation&, const oscillation&) = default;
};

/// Emitted when the session becomes settled (open) and again when that ends. Both carry the same
/// `declared`; the later replaces the earlier. `declared` depends on earlier rows only.
struct settled_reading {
  instant declared{};                 // the row at which it became known
  instant from{};                     // first row of the mean
  std::optional<instant> to;          // last row of the mean; none while open
  std::optional<instant> released;    // the row at which its end became known; none at end of log
  cause ended = cause::none;          // none while open
  instant last_seen{};                // newest row in the mean, open or not
  lanes<channel_reading> channels;
  bool creeping = false;              // within limits, yet still moving on
  std::optional<oscillation> hunting; // swings, steady in the mean over its period
  bool drift_corrected = false;       // for what it drifted between two looks at fresh air
  friend constexpr bool operator==(const settled_reading&, const settled_reading&) = default;
};

}  // namespace stilling
