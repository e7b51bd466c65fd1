// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#include "stilling/terms/units.hpp"

// Quantities of two kinds do not compare.
bool same(stilling::volume_fraction oxygen, stilling::pressure_difference draft) {
#ifdef STILLING_MUST_NOT_COMPILE
  return oxygen == draft;
#else
  return oxygen == stilling::volume_fraction{} && draft == stilling::pressure_difference{};
#endif
}
