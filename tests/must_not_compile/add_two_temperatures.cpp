// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#include "stilling/terms/units.hpp"

// Two points on a scale have no sum; their difference can be added to a point.
auto moved(stilling::temperature a, stilling::temperature b) {
#ifdef STILLING_MUST_NOT_COMPILE
  return a + b;
#else
  return a + (a - b);
#endif
}
