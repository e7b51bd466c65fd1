// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#pragma once

#include <optional>

#include "stilling/terms/time.hpp"

/// A straight line by least squares from sums that values are added to. The sums are about an
/// origin, the first value added, and good as long as the values stay near it. Sums of the oldest
/// values about the same origin can be taken from them: what is left are sums of the newest.
namespace stilling {

struct timed_value {
  double t = 0;  // seconds since a moment of the caller's
  double y = 0;
};

/// A straight line through the values of a window. Slopes per second.
struct line_fit {
  double rate = 0;       // least-squares slope
  double level = 0;      // mean of the values
  double middle = 0;     // where on the line that is: so many seconds before the newest value
  double span = 0;       // seconds from first to last value
  double count = 0;      // values
  double variance = 0;   // about the line, n - 2
  double lag_one = 0;    // autocorrelation of the residuals at lag one, as estimated
  double time_moment = 0;  // sum of (t - mean t)^2
  instant first{};       // stamp of the first value

  /// The line, so many seconds after the newest value.
  [[nodiscard]] constexpr double at(double after_newest) const noexcept {
    return level + rate * (middle + after_newest);
  }
};

/// Of such a line the slope alone, for less.
struct line_slope {
  double rate = 0;
  double span = 0, count = 0, time_moment = 0;
};

/// Products of the differences from one value to the next.
struct step_products {
  double yy = 0, ty = 0, tt = 0;

  constexpr step_products() noexcept = default;
  constexpr step_products(const timed_value& from, const timed_value& to) noexcept {
    const double dx = to.t - from.t, dv = to.y - from.y;
    yy = dv * dv, ty = dx * dv, tt = dx * dx;
  }
};

struct line_moments {
  timed_value origin;
  double n = 0, t = 0, y = 0, tt = 0, ty = 0, yy = 0;  // of values about it
  double dd_yy = 0, dd_ty = 0, dd_tt = 0;              // of successive differences

  /// `step`: between this value and a neighbour that is in the same sums, or will be.
  constexpr void add(const timed_value& b, const step_products& step) noexcept {
    const double x = b.t - origin.t, v = b.y - origin.y;
    n += 1, t += x, y += v;
    tt += x * x, ty += x * v, yy += v * v;
    dd_yy += step.yy, dd_ty += step.ty, dd_tt += step.tt;
  }
  /// The first value of all.
  constexpr void begin(const timed_value& b) noexcept {
    *this = {};
    origin = b;
    n = 1;
  }
  /// No value yet, about that origin.
  constexpr void clear(const timed_value& about) noexcept {
    *this = {};
    origin = about;
  }

  /// Without the oldest values, whose sums are `left`, about the same origin.
  [[nodiscard]] constexpr line_moments without(const line_moments& left) const noexcept {
    return {origin,         n - left.n,         t - left.t,         y - left.y,        tt - left.tt,
            ty - left.ty,   yy - left.yy,       dd_yy - left.dd_yy, dd_ty - left.dd_ty,
            dd_tt - left.dd_tt};
  }

  /// `first` and `last`: when the oldest and the newest value were, on the values' clock; nothing
  /// where the line is not determined.
  [[nodiscard]] constexpr std::optional<line_slope> slope(double first,
                                                          double last) const noexcept {
    const double mt = tt - t * t / n, mty = ty - t * y / n;
    if (!(mt > 0)) return std::nullopt;
    return line_slope{mty / mt, last - first, n, mt};
  }
  [[nodiscard]] constexpr std::optional<line_fit> line(double first, double last) const noexcept {
    const double mt = tt - t * t / n, mty = ty - t * y / n, my = yy - y * y / n;
    if (!(mt > 0)) return std::nullopt;
    line_fit f;
    f.rate = mty / mt;
    f.level = origin.y + y / n;
    f.middle = last - origin.t - t / n;
    f.span = last - first;
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
