// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "chart_parts.hpp"
#include "stilling/chart.hpp"

/// What the picture of a test's course shows, before it is drawn. Private to src/.
namespace stilling::drawing {

/// Spans of the trace, joined until there are few enough to draw; `from` and `to` are shares of
/// the time axis.
struct drawn_column {
  double from = 0, to = 0;
  lanes<extent> of;
};

struct settled_span {
  std::size_t number = 0;  // as the tables count, from 1
  double from = 0, to = 0;            // settled
  double mean_from = 0, mean_to = 0;  // what the mean is of
};

struct said_mark {
  double at = 0;
  bool is_smoke = false;
  std::string text;
};

struct course {
  instant from{}, to{};
  bool is_part = false;  // the clock broke: this is the longest piece
  std::vector<drawn_column> columns;
  std::vector<settled_span> settled;
  std::vector<said_mark> marks;
  channel_set shown;
  [[nodiscard]] double at(instant t) const noexcept;
  [[nodiscard]] bool holds(instant t) const noexcept { return t >= from && t <= to; }
};

/// None where the log holds no rows.
[[nodiscard]] std::optional<course> course_of(const visit& test);

/// The part of a channel's axis that is worth looking at: what settled and its surroundings. What
/// goes beyond is cut off, and said.
struct view {
  scale on;                          // in the unit it is shown in
  std::optional<double> up_to, down_to;  // where the channel went beyond
};
[[nodiscard]] view view_of(channel c, const course& k, const visit& test, const presentation& as);

}  // namespace stilling::drawing
