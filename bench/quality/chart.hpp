// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#pragma once

#include <string>
#include <vector>

namespace stilling::scoreboard {

/// A rule in the picture: where it stands, and the line along which its threshold moves it.
struct plotted {
  struct spot {
    double premature = 0;  // share of runs
    double delay = 0;      // median, s
  };
  std::string label;
  spot at;
  std::vector<spot> along;  // empty: no line
  bool ours = false;
};

/// Delay against premature share as an SVG document. Premature on a logarithmic scale with a place
/// of its own for none at all; delays beyond the scale are told at its edge. `width` in pixels;
/// below 800 it is drawn upright, for a narrow page.
std::string chart_of(const std::vector<plotted>& rules, std::size_t runs, double width = 1000);

}  // namespace stilling::scoreboard
