// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#pragma once

#include <algorithm>
#include <array>
#include <cmath>
#include <cstddef>
#include <limits>

#include "stilling/estimators/leaning_rows.hpp"
#include "stilling/estimators/mixture.hpp"

/// What rows say about y = level + size e^(-t/tau) under noise of unknown size and correlation.
///
/// Given tau and the correlation, level and size are linear: least squares on whitened rows. Both
/// are laid out on a grid that closes in on where the likelihood is, and every cell is weighed by
/// its marginal likelihood (level, size and the noise's variance integrated out; Harville,
/// Biometrika 61, 1974), with the prior that makes equally long pieces of the family of curves
/// equally likely (Jeffreys, Proc. R. Soc. A 186, 1946). A question about the curve is answered by
/// the whole mixture, so that its interval knows how well tau and the noise are known.
namespace stilling {

class exponential_posterior {
 public:
  static constexpr std::size_t taus = 32, noises = leaning_rows::count;
  static constexpr std::size_t least_rows = 12;

  struct fit {
    double tau = 1, level = 0, size = 0;
    double squares = 0;                           // whitened, left over
    double level_variance = 0, size_variance = 0;  // per unit variance of the noise
    double likelihood = 0;                         // logarithm, marginal, without the prior
  };

  /// At least `least_rows` rows, which must outlive this; `step` of the display, 0: none.
  exponential_posterior(const leaning_rows& rows, double step) noexcept
      : rows_{rows}, floor_{2 * step * step / 12 + 1e-300} {
    sum_up();
    double shortest = rows.length() / 40, longest = 4 * rows.length();
    for (int closer = 0;; ++closer) {
      lay_out(shortest, longest);
      fit_all();
      if (closer == 2) break;
      std::size_t first = taus, last = 0;
      for (std::size_t k = 0; k < taus; ++k)
        for (std::size_t p = 0; p < noises; ++p)
          if (best().likelihood - fits_[p][k].likelihood < negligible)
            first = std::min(first, k), last = k;
      if (closer == 0) bounded_ = first > 0 && last + 1 < taus;
      shortest = grid_[first > 0 ? first - 1 : 0];
      longest = grid_[last + 1 < taus ? last + 1 : last];
    }
    weigh();
  }

  /// Whether the rows leave no time constant possible that is beyond what they can tell: shorter
  /// than a 40th of their length, or longer than four times that.
  [[nodiscard]] bool bounded() const noexcept { return bounded_; }
  [[nodiscard]] const leaning_rows& rows() const noexcept { return rows_; }
  /// Under noise candidate `p`, and of all.
  [[nodiscard]] const fit& best(std::size_t p) const noexcept { return fits_[p][best_[p]]; }
  [[nodiscard]] const fit& best() const noexcept { return best(best_noise()); }
  [[nodiscard]] std::size_t best_noise() const noexcept {
    std::size_t top = 0;
    for (std::size_t p = 1; p < noises; ++p)
      if (best(p).likelihood > best(top).likelihood) top = p;
    return top;
  }

  [[nodiscard]] double freedom() const noexcept { return static_cast<double>(rows_.size()) - 2; }
  /// Of the noise, given what was left over; that of a display's own rounding counts as two rows.
  [[nodiscard]] double variance(double squares) const noexcept {
    return (squares + floor_) / (freedom() - 3);
  }
  /// Logarithm of the likelihood under candidate `p` where so much is left over.
  [[nodiscard]] double profile(std::size_t p, double squares) const noexcept {
    return -base_[p].log_determinant / 2 - freedom() / 2 * natural_log(squares + floor_);
  }

  /// `of(fit)` says where a question is answered under one cell and how certainly.
  template <class Of> [[nodiscard]] mixture<taus * noises> answer(Of of) const noexcept {
    mixture<taus * noises> all;
    for (std::size_t p = 0; p < noises; ++p)
      for (std::size_t k = 0; k < taus; ++k)
        if (mass_[p][k] > 1e-7) {
          bell b = of(fits_[p][k]);
          b.mass = mass_[p][k];
          all.add(b);
        }
    return all;
  }

 private:
  static constexpr double negligible = 8;  // of log likelihood: e^-8

  struct base_sums {
    double oo = 0, oy = 0, yy = 0, log_determinant = 0;
  };
  struct decay_sums {
    double oe = 0, ee = 0, ey = 0;
  };

  void sum_up() noexcept {
    for (std::size_t p = 0; p < noises; ++p)
      for (std::size_t i = 0; i < rows_.size(); ++i) {
        const auto lean = rows_.of(p, i);
        const double o = lean.free(1, i > 0 ? 1 : 0), y = lean.free(rows_.y(i), rows_.y_before(i));
        base_[p].oo += o * o, base_[p].oy += o * y, base_[p].yy += y * y;
        if (lean.by > 0) base_[p].log_determinant += natural_log(1 - lean.by * lean.by);
      }
  }

  void lay_out(double shortest, double longest) noexcept {
    const double grow = 1 / decay(natural_log(longest / shortest) / (taus - 1));
    grid_[0] = shortest;
    for (std::size_t k = 1; k < taus; ++k) grid_[k] = grid_[k - 1] * grow;
  }

  void fit_all() noexcept {
    std::array<std::array<decay_sums, taus>, noises> sums{};
    std::array<double, taus> before{}, now{};
    for (std::size_t i = 0; i < rows_.size(); ++i) {
      for (std::size_t k = 0; k < taus; ++k) now[k] = rows_.decayed(i, grid_[k]);
      for (std::size_t p = 0; p < noises; ++p) {
        const auto lean = rows_.of(p, i);
        const double o = lean.free(1, i > 0 ? 1 : 0), y = lean.free(rows_.y(i), rows_.y_before(i));
        for (std::size_t k = 0; k < taus; ++k) {
          const double e = lean.free(now[k], before[k]);
          sums[p][k].oe += o * e, sums[p][k].ee += e * e, sums[p][k].ey += e * y;
        }
      }
      before = now;
    }
    for (std::size_t p = 0; p < noises; ++p) {
      best_[p] = 0;
      for (std::size_t k = 0; k < taus; ++k) {
        fits_[p][k] = solved(p, grid_[k], sums[p][k]);
        if (fits_[p][k].likelihood > best(p).likelihood) best_[p] = k;
      }
    }
  }

  [[nodiscard]] fit solved(std::size_t p, double tau, const decay_sums& e) const noexcept {
    const base_sums& s = base_[p];
    const double mean = e.oe / s.oo;
    const double ee = std::max(e.ee - mean * e.oe, 1e-12 * e.ee), ey = e.ey - mean * s.oy;
    fit f;
    f.tau = tau;
    f.size = ey / ee;
    f.level = (s.oy - f.size * e.oe) / s.oo;
    f.squares = std::max(s.yy - s.oy * s.oy / s.oo - f.size * ey, 0.0);
    f.size_variance = 1 / ee;
    f.level_variance = 1 / s.oo + mean * mean / ee;
    f.likelihood = profile(p, f.squares) - natural_log(s.oo * ee) / 2;
    return f;
  }

  /// Length of the curve's move per unit of log tau, at right angles to what level and size can do:
  /// the Jeffreys prior of independent rows, for each of them.
  [[nodiscard]] double length_of_move(double tau) const noexcept {
    double n = 0, oe = 0, od = 0, ee = 0, ed = 0, dd = 0;
    for (std::size_t i = 0; i < rows_.size(); ++i) {
      const double e = rows_.decayed(i, tau), d = rows_.t(i) / tau * e;
      n += 1, oe += e, od += d, ee += e * e, ed += e * d, dd += d * d;
    }
    const double cee = ee - oe * oe / n, ced = ed - oe * od / n, cdd = dd - od * od / n;
    return square_root(std::max(n * (cee * cdd - ced * ced), 0.0));
  }

  void weigh() noexcept {
    double most = -std::numeric_limits<double>::max();
    for (std::size_t k = 0; k < taus; ++k) {
      const double length = length_of_move(grid_[k]);
      for (std::size_t p = 0; p < noises; ++p) {
        const double prior = std::abs(fits_[p][k].size) * length;
        mass_[p][k] = fits_[p][k].likelihood + natural_log(std::max(prior, 1e-290));
        most = std::max(most, mass_[p][k]);
      }
    }
    for (auto& each : mass_)
      for (double& m : each) m = decay(most - m);
  }

  leaning_rows rows_;
  double floor_;
  bool bounded_ = false;
  std::array<base_sums, noises> base_{};
  std::array<double, taus> grid_{};
  std::array<std::array<fit, taus>, noises> fits_{};
  std::array<std::size_t, noises> best_{};
  std::array<std::array<double, taus>, noises> mass_{};
};

}  // namespace stilling
