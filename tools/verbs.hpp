// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#pragma once

#include <string>

#include "options.hpp"

// The verbs, each in a file of its name. Each returns the exit status.

namespace stilling::command {

inline constexpr int done = 0;
inline constexpr int nothing_settled = 1;
inline constexpr int not_understood = 2;

[[nodiscard]] int settle(const settle_request& r);
[[nodiscard]] int report(const report_request& r);
[[nodiscard]] int derive(const derive_request& r);

/// What `derive` answers, and what speaks against what was typed; empty: nothing.
struct told_figures {
  std::string text, nonsense;
};
[[nodiscard]] told_figures figures_of(const derive_request& r);

[[nodiscard]] int watch(const watch_request& r);
[[nodiscard]] int look(const look_request& r);
[[nodiscard]] int check(const check_request& r);
[[nodiscard]] int keep(const keep_request& r);
[[nodiscard]] int past(const past_request& r);
[[nodiscard]] int simulate(const simulate_request& r);
[[nodiscard]] int list(const list_request& r);

}  // namespace stilling::command
