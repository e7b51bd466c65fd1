// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#include "stilling/terms/units.hpp"

// Unknown is not zero: a temperature nobody gave does not start at 0 K.
stilling::temperature first() {
#ifdef STILLING_MUST_NOT_COMPILE
  return {};
#else
  return stilling::temperature::from_celsius(20);
#endif
}
