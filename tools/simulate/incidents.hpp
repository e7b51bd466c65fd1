// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#pragma once

// Incidents that several scenarios share. Each begins at the course's cursor and moves it on.

#include "course.hpp"

namespace stilling::invented {

void disturb_probe(course&);      ///< a slip with room air, quick or slow to close, or a pull
void break_something(course&);    ///< a stuck channel, blank cells, missing rows, spikes
void break_clock(course&);        ///< a jump, a repeat, a long pause
void something_happens(course&);  ///< any of these, or an adjustment
/// A swing with a period far above a minute: not hunting, but unrest.
void slow_swing(course&, double from_s, double to_s);

}  // namespace stilling::invented
