// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#pragma once

#include <algorithm>
#include <cmath>
#include <string>

#include "text_number.hpp"

/// Numbers with their uncertainty as a person can use them. Private to src/.
namespace stilling::writing {

/// An uncertainty as a person can use it: two digits where the first is 1 or 2, else one (JCGM 100,
/// 7.2.6, advises against more than two), and no more decimals than `most`; rounded up.
struct readable {
  double u = 0;
  int decimals = 0;
};

inline readable readable_of(double u, int most) {
  // u in steps of its last digit shown, and back.
  const auto steps = [](double x, int decimals) {
    for (; decimals > 0; --decimals) x *= 10;
    for (; decimals < 0; ++decimals) x /= 10;
    return x;
  };
  int decimals = -leading_power(u);
  if (steps(u, decimals) < 2.95) ++decimals;
  decimals = std::min(decimals, most);
  return {steps(std::ceil(steps(u, decimals) - 1e-9), -decimals), std::max(decimals, 0)};
}

inline std::string readable_value(const shown_value& x, int most) {
  std::string to;
  if (!x.u) {
    append_rounded(to, x.value, std::min(x.decimals, most));
    return to;
  }
  const auto [u, decimals] = readable_of(*x.u, most);
  append_fixed(to, x.value, decimals);
  to += " ± ";
  append_fixed(to, u, decimals);
  return to;
}

/// Three digits where nothing is known about the uncertainty.
inline std::string readable_figure(const shown_value& x, int most) {
  const bool bare = !x.u && x.value != 0;
  return readable_value(x, bare ? std::min(std::max(2 - leading_power(x.value), 0), most) : most);
}

}  // namespace stilling::writing
