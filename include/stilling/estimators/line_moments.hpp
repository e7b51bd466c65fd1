// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#pragma once

#include <optional>

#include "stilling/terms/time.hpp"

/// A straight line by least squares from sums that values are added to and taken from. The sums are
/// about an origin, the first value added, and good as long as the values stay near it.
namespace stilling {

struct timed_value {
  instant at{};
  double y = 0;
};

/// A straight line through the values of a window. Slopes per second.
struct line_fit {
  double rate = 0;       // least-squares slope
  double level = 0;      // mean of the values
  duration middle{};     // where on the line that mean lies: so long before the newest value
  double span = 0;       // seconds from first to last value
  double count = 0;      // buckets
  double variance = 0;   // about the line, n - 2
  double lag_one = 0;    // autocorrelation of the residuals at lag one, as estimated
  double time_moment = 0;  // sum of (t - mean t)^2
  instant first{};       // stamp of the first bucket

  /// The line, so many seconds after the newest value.
  [[nodiscard]] constexpr double at(double after_newest) const noexcept {
    return level + rate * (in_seconds(middle) + after_newest);
  }
};

/// Products of the differences from one value to the next.
struct step_products {
  double yy = 0, ty = 0, tt = 0;

  constexpr step_products() noexcept = default;
  constexpr step_products(const timed_value& from, const timed_value& to) noexcept {
    const double dx = in_seconds(to.at - from.at), dv = to.y - from.y;
    yy = dv * dv, ty = dx * dv, tt = dx * dx;
  }
};

struct line_moments {
  instant t0{};  // the origin
  double y0 = 0;
  double n = 0, t = 0, y = 0, tt = 0, ty = 0, yy = 0;  // of values about it
  double dd_yy = 0, dd_ty = 0, dd_tt = 0;              // of successive differences

  /// `step`: from the value before to this one; zeros where it is the first.
  constexpr void add(const timed_value& b, const step_products& step) noexcept {
    if (n == 0) *this = {.t0 = b.at, .y0 = b.y};
    const double x = in_seconds(b.at - t0), v = b.y - y0;
    n += 1, t += x, y += v;
    tt += x * x, ty += x * v, yy += v * v;
    dd_yy += step.yy, dd_ty += step.ty, dd_tt += step.tt;
  }
  /// `step`: from this value, the oldest, to the one after; zeros where it is the last.
  constexpr void remove(const timed_value& b, const step_products& step) noexcept {
    const double x = in_seconds(b.at - t0), v = b.y - y0;
    n -= 1, t -= x, y -= v;
    tt -= x * x, ty -= x * v, yy -= v * v;
    dd_yy -= step.yy, dd_ty -= step.ty, dd_tt -= step.tt;
  }

  constexpr void clear() noexcept { *this = {}; }

  /// `first` and `last`: when the oldest and the newest value were; nothing where the line is not
  /// determined.
  [[nodiscard]] constexpr std::optional<line_fit> line(instant first, instant last) const noexcept {
    const double mt = tt - t * t / n, mty = ty - t * y / n, my = yy - y * y / n;
    if (!(mt > 0)) return std::nullopt;
    line_fit f;
    f.rate = mty / mt;
    f.level = y0 + y / n;
    f.middle = (last - t0) - duration_from_seconds(t / n).value_or(duration{0});
    f.span = in_seconds(last - first);
    f.first = first;
    f.count = n;
    f.time_moment = mt;
    const double squares = my - f.rate * mty;
    f.variance = squares > 0 ? squares / (n - 2) : 0;
    const double steps = dd_yy - 2 * f.rate * dd_ty + f.rate * f.rate * dd_tt;
    // von Neumann's ratio: mean squared successive difference over variance = 2 (1 - r1).
    if (f.variance > 0 && n > 2) f.lag_one = 1 - steps / (n - 1) / (2 * f.variance);
    return f;
  }
};

}  // namespace stilling
