// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#pragma once

#include <algorithm>
#include <array>
#include <cstddef>

#include "stilling/estimators/exponential_posterior.hpp"

/// Does a second time constant show behind a fitted exponential? The score of one 1.6 to 27 times
/// slower, in eight steps, of either sign, beside a small change of the first: twice the log of the
/// likelihood it gains, the noise's correlation chosen anew with it and without it. Slow noise
/// passes for a slow part, and the other way round; that choice is what keeps them apart. What
/// bends otherwise (a rise that begins slowly) is answered as well.
namespace stilling {

struct second_part {
  double gain = 0;  // twice the log likelihood ratio
  double sight = 0;  // by how many standard deviations of the noise a part of a tenth would show
};

class second_part_test {
 public:
  [[nodiscard]] static second_part of(const exponential_posterior& x) noexcept {
    double with = x.profile(0, x.best(0).squares), without = with;
    second_part out;
    for (std::size_t p = 0; p < exponential_posterior::noises; ++p) {
      const auto& fit = x.best(p);
      const auto found = best_score(x, p);
      const double most = fit.squares * (1 - 1e-9);
      without = std::max(without, x.profile(p, fit.squares));
      with = std::max(with, x.profile(p, fit.squares - std::min(found.gain, most)));
      if (p != x.best_noise()) continue;
      out.sight = found.sight * (fit.size > 0 ? fit.size : -fit.size) / 10 /
                  square_root(x.variance(fit.squares));
    }
    out.gain = 2 * (with - without);
    return out;
  }

 private:
  static constexpr std::size_t ratios = 8, seen = 3;  // `sight` is of the fourth, 5.4 times

  struct score {
    double gain = 0;   // squares it explains
    double sight = 0;  // length of what is its own
  };

  /// Sums of products of the three regressors (1, e, its move with tau) and one more.
  struct products {
    std::array<double, 3> with{};
    double own = 0, left = 0;
  };

  [[nodiscard]] static score best_score(const exponential_posterior& x, std::size_t p) noexcept {
    const leaning_rows& rows = x.rows();
    const auto& fit = x.best(p);
    std::array<double, ratios> tau{}, slow_before{};
    tau[0] = 1.6 * fit.tau;
    for (std::size_t c = 1; c < ratios; ++c) tau[c] = 1.5 * tau[c - 1];
    std::array<std::array<double, 3>, 3> s{};
    std::array<products, ratios> slow{};
    std::array<double, 3> before{};
    double left_before = 0, moved = 0;
    for (std::size_t i = 0; i < rows.size(); ++i) {
      const auto lean = rows.of(p, i);
      const double e = rows.decayed(i, fit.tau);
      const std::array<double, 3> now{1, e, rows.t(i) / fit.tau * e};
      const double left = rows.y(i) - fit.level - fit.size * e;
      const double z = lean.free(left, left_before);
      std::array<double, 3> g{};
      for (std::size_t a = 0; a < 3; ++a) g[a] = lean.free(now[a], before[a]);
      for (std::size_t a = 0; a < 3; ++a)
        for (std::size_t b = 0; b <= a; ++b) s[a][b] += g[a] * g[b];
      moved += g[2] * z;
      for (std::size_t c = 0; c < ratios; ++c) {
        const double f = rows.decayed(i, tau[c]), h = lean.free(f, slow_before[c]);
        for (std::size_t a = 0; a < 3; ++a) slow[c].with[a] += h * g[a];
        slow[c].own += h * h;
        slow[c].left += h * z;
        slow_before[c] = f;
      }
      before = now;
      left_before = left;
    }
    return from(s, slow, moved);
  }

  /// By Cholesky's factors of the three; what is left over is at right angles to the first two.
  [[nodiscard]] static score from(const std::array<std::array<double, 3>, 3>& s,
                                  const std::array<products, ratios>& slow,
                                  double moved) noexcept {
    std::array<std::array<double, 3>, 3> l{};
    for (std::size_t a = 0; a < 3; ++a)
      for (std::size_t b = 0; b <= a; ++b) {
        double v = s[a][b];
        for (std::size_t j = 0; j < b; ++j) v -= l[a][j] * l[b][j];
        if (a == b && !(v > 1e-12 * s[a][a])) return {};
        l[a][b] = a == b ? square_root(v) : v / l[b][b];
      }
    const double by_move = moved / l[2][2];
    score out;
    for (std::size_t c = 0; c < ratios; ++c) {
      std::array<double, 3> z{};
      double own = slow[c].own;
      for (std::size_t a = 0; a < 3; ++a) {
        z[a] = slow[c].with[a];
        for (std::size_t j = 0; j < a; ++j) z[a] -= l[a][j] * z[j];
        z[a] /= l[a][a];
        own -= z[a] * z[a];
      }
      if (!(own > 1e-9 * slow[c].own)) continue;
      const double fresh = slow[c].left - z[2] * by_move;
      out.gain = std::max(out.gain, fresh * fresh / own);
      if (c == seen) out.sight = square_root(own);
    }
    out.gain += by_move * by_move;
    return out;
  }
};

}  // namespace stilling
