// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#pragma once

// What a rule leaves as its reading when it claims, and how good that is. Our rule gives one with
// its claim. The others have none of their own: theirs is the mean of the minute before the claim,
// with an interval that knows autocorrelation and rounding, which is more than they ask for.

#include <algorithm>
#include <cmath>
#include <optional>

#include "approach.hpp"
#include "baselines.hpp"

namespace stilling::scoreboard {

struct stated_reading {
  double from = 0, to = 0;  // s
  double mean = 0;          // degF
  double half = 0;          // of the interval about the mean
  double rise = 0;          // still to come, signed; widens the interval on that side
};

/// Mean of rows, Student's t at the effective number of independent values.
inline std::optional<stated_reading> ordinary_mean(rows r) {
  if (r.size() < 3) return {};
  running_moments all;
  for (const auto& s : r) all.push(s.y);
  double lagged = 0, squares = 0;
  for (std::size_t i = 0; i < r.size(); ++i) {
    const double e = r[i].y - all.mean();
    squares += e * e;
    if (i > 0) lagged += e * (r[i - 1].y - all.mean());
  }
  const double n = static_cast<double>(r.size());
  const double g = inflation(squares > 0 ? lagged / squares : 0, n);
  const double variance = std::max(*all.variance(), display_step * display_step / 12);
  const double half = student_t(0.975, std::max(1.0, n / g - 1)) * std::sqrt(variance * g / n);
  return stated_reading{r.front().t, r.back().t, all.mean(), half, 0};
}

struct reading_marks {
  double off_level = 0;      // mean less the true mean over the same rows, degF
  double off_final = 0;      // mean less the value the course ends at
  bool holds_level = false;  // mean +- half
  bool holds_final = false;  // the same, with the rise still to come
};

inline reading_marks mark(const stated_reading& r, const course& c) {
  double level = 0, count = 0;
  for (const auto& s : between(c.rows, r.from - 1e-6, r.to + 1e-6)) level += c.value(s.t), ++count;
  reading_marks m;
  m.off_level = count > 0 ? r.mean - level / count : 0;
  m.off_final = r.mean - c.final_value();
  m.holds_level = std::abs(m.off_level) <= r.half;
  m.holds_final = -m.off_final <= r.half + std::max(0.0, r.rise) &&
                  m.off_final <= r.half - std::min(0.0, r.rise);
  return m;
}

}  // namespace stilling::scoreboard
