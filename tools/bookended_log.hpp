// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#pragma once

#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "options.hpp"
#include "stilling/items/bookends.hpp"

// A log that is read twice, so that what it ends with can correct what it begins with. It is kept
// whole in between.

namespace stilling::command {

/// Where a log has none nothing is corrected.
[[nodiscard]] inline bool has_an_end(const log_options& o) noexcept {
  return o.live.device.empty() && !o.live.follow;
}
[[nodiscard]] inline bool reads_twice(const log_options& o) noexcept {
  return o.drift_correction && has_an_end(o);
}

/// The fresh air before and after, of each part between breaks.
[[nodiscard]] std::vector<bookends> bookends_of(const log_options& o, std::string_view log);

/// What was made of it, as in log_summary; none where it was not asked for.
[[nodiscard]] std::vector<std::string> drift_assumptions(const log_options& o,
                                                         std::span<const bookends> parts,
                                                         const presentation& as);

}  // namespace stilling::command
