// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#include "stilling/terms/units.hpp"

// The way out names the unit as well.
double excess(stilling::volume_fraction oxygen) {
#ifdef STILLING_MUST_NOT_COMPILE
  return oxygen;
#else
  return oxygen.in_percent();
#endif
}
