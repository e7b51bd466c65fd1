// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#pragma once

// The truth of an invented test, from its plan and its noise-free seconds.

#include <array>
#include <vector>

#include "simulation.hpp"

namespace stilling::invented {

using clock_offsets = std::vector<std::array<long long, 2>>;

/// Plant second and offset of the log's clock from then on.
clock_offsets clock_of(const test_plan&);
long long offset_at(const clock_offsets&, double plant_s) noexcept;

/// Fills ratios, intervals, events, blind spans and burns. `before`: seconds ahead of the log.
void judge(const test_plan&, const std::vector<second>& before, truth&);

}  // namespace stilling::invented
