// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#pragma once

/// Weighted least-squares line, joined from parts: the moments of two stretches give those of both
/// (Chan, Golub and LeVeque 1979), about their own centres, so that nothing cancels.
///
/// It also fits through noise that leans on its predecessor (AR(1)), at uneven stamps, exactly:
/// whitening a row by its predecessor, with phi = e^(-dt/tau), is the same as taking a point
///     x = t + (t - t') phi/(1 - phi),  v = y + (y - y') phi/(1 - phi),
/// with the weight (1 - phi)/(1 + phi) (Prais and Winsten 1954, rearranged). Every whitened
/// residual then has the variance of the noise itself, and a row with no predecessor weighs 1.
namespace stilling {

struct weighted_line {
  double rows = 0;
  double weight = 0;            // what the rows are worth in independent ones
  double t = 0, y = 0;          // weighted means
  double tt = 0, ty = 0, yy = 0;  // weighted moments about them

  constexpr void join(const weighted_line& other) noexcept {
    if (!(other.weight > 0)) return;
    const double sum = weight + other.weight, share = other.weight / sum;
    const double dt = other.t - t, dy = other.y - y, both = weight * share;
    rows += other.rows;
    weight = sum;
    t += dt * share;
    y += dy * share;
    tt += other.tt + dt * dt * both;
    ty += other.ty + dt * dy * both;
    yy += other.yy + dy * dy * both;
  }

  /// A row that leans on none before it.
  constexpr void push(double at, double value) noexcept { join({1, 1, at, value, 0, 0, 0}); }

  /// A row that leans on the one before it, at `t_before` with `y_before`, by 0 <= phi < 1.
  constexpr void push(double at, double value, double t_before, double y_before,
                      double phi) noexcept {
    const double reach = phi / (1 - phi);
    join({1, (1 - phi) / (1 + phi), at + (at - t_before) * reach,
          value + (value - y_before) * reach, 0, 0, 0});
  }

  /// Per unit of time; zero where all stamps are one.
  [[nodiscard]] constexpr double rate() const noexcept { return tt > 0 ? ty / tt : 0; }
  [[nodiscard]] constexpr double at(double when) const noexcept { return y + rate() * (when - t); }
  /// Weighted sum of squared residuals.
  [[nodiscard]] constexpr double squares() const noexcept {
    const double left = yy - rate() * ty;
    return left > 0 ? left : 0;
  }
  /// About the line; zero below three rows.
  [[nodiscard]] constexpr double variance() const noexcept {
    return rows > 2 ? squares() / (rows - 2) : 0;
  }
};

}  // namespace stilling
