// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#pragma once

// The scripts of all scenarios; `scenario.cpp` says in a sentence what each is.

#include "course.hpp"

namespace stilling::invented {

// visits.cpp
void first_visit(course&);
void whole_visit(course&);
void flawed_visit(course&);
void cold_start(course&);
void warm_start(course&);
void under_way(course&);
void air_adjustments(course&);
void draft_adjustments(course&);
void probe_slips(course&);
void short_cycling(course&);
void staged_firing(course&);
void slow_approach(course&);
void light_appliance(course&);
void long_burn(course&);
void flame_failure(course&);
void never_lit(course&);
void eventful(course&);

// unrest.cpp
void cold_instrument(course&);
void warming_instrument(course&);
void drifting_cells(course&);
void drifting_between(course&);
void hunting(course&);
void wandering(course&);
void creeping(course&);
void restless(course&);
void faulty_sensors(course&);
void slow_logger(course&);
void broken_clock(course&);
void rising_monoxide(course&);
void gusty_day(course&);
void drifting_room(course&);
void rough_signal(course&);
void quiet_display(course&);

}  // namespace stilling::invented
