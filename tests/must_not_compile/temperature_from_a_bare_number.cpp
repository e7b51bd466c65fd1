// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#include "stilling/terms/units.hpp"

// A number has no unit until somebody names one.
stilling::temperature setpoint() {
#ifdef STILLING_MUST_NOT_COMPILE
  return 293.15;
#else
  return stilling::temperature::from_kelvins(293.15);
#endif
}
