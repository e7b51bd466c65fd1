// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#include "stilling/terms/units.hpp"

// 70 degF is no warmer than 50 degF apart.
bool warmer(stilling::temperature a, stilling::temperature b,
            stilling::temperature_difference least) {
#ifdef STILLING_MUST_NOT_COMPILE
  return a > least && b < a;
#else
  return a - b > least;
#endif
}
