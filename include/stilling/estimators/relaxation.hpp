// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#pragma once

#include <algorithm>
#include <array>
#include <cstddef>
#include <optional>

#include "stilling/estimators/coarse_past.hpp"
#include "stilling/estimators/exponential.hpp"
#include "stilling/estimators/uncertainty.hpp"

/// The rate at the end of a series that relaxes: y = level + rate t + up to two exponentials that
/// die away, under noise of known density.
///
/// A line over a window tells the rate at the window's middle. What is warming up tells more: how
/// its rate has fallen so far. Time constants are laid out on a grid (40 s to 15 min, a square root
/// of two apart); given one or two of them the rest is linear, and every choice is weighed by its
/// marginal likelihood under wide normal priors. The rate is that of the whole mixture, so that its
/// uncertainty knows how well the curve is known. A steady ramp is the choice without exponentials.
/// Where the curve leaves far more over than the noise, something happened in that past, and only
/// its newer half is looked at.
namespace stilling {

struct relaxation_demands {
  double limit = 0;    // per second; the scale of the priors; above 0
  double density = 0;  // of the noise: variance of a mean over T seconds, times T; above 0
  double least_density = 0;  // what the display's rounding alone makes of it
  double confidence = 0.95;  // of the bound, one-sided, as student_t takes it
  double rounding = 0;  // how far rounding can shift the rise over the past, where nothing dithers
};

struct relaxed_rate {
  double rate = 0;         // per second, at the newest rows
  double uncertainty = 0;  // standard
  double freedom = 1;
  double bound = 0;  // of |rate|, at the confidence asked for
};

class relaxation {
 public:
  static constexpr double longest = 675;  // seconds that are looked at
  static constexpr double least = 240;    // seconds below which a window tells as much
  static constexpr std::size_t least_rows = 12;

  /// Nothing where the past is too short, or has too few rows.
  [[nodiscard]] static constexpr std::optional<relaxed_rate> rate_of(
      const coarse_past& past, const relaxation_demands& d) noexcept {
    const double known = std::max(d.density, d.limit * d.limit / 10);  // a still display has none
    for (double reach = longest;; reach /= 2) {
      relaxation r{past, reach};
      if (r.rows() < least_rows || r.length_ < least) return std::nullopt;
      r.sum_up();
      const double own = r.density_left(r.weigh(known, d.limit), d.least_density);
      if (own > misfit * known) continue;
      r.weigh(std::max(known, own), d.limit);
      return r.answer(d);
    }
  }

 private:
  static constexpr std::size_t taus = 10, columns = 2 + taus, most = 4;
  static constexpr std::size_t choices = 1 + taus + taus * (taus - 1) / 2;
  static constexpr double misfit = 4;  // times the noise left over: something happened in that past
  static constexpr double grid_share = 0.04;  // of the limit: what lies between time constants
  static constexpr double steady_scale = 5;    // limits: standard deviation of the steady rate
  static constexpr double dying_scale = 2000;  // seconds of the limit: of each exponential's size

  struct told {
    double rate = 0, variance = 0, likelihood = 0;  // logarithm, marginal
  };
  struct choice {
    std::size_t terms = 2;
    std::array<std::size_t, most> column{0, 1, 0, 0};
    std::array<double, most> size{};
    told says{};
  };

  constexpr relaxation(const coarse_past& past, double reach) noexcept : past_{past} {
    const auto& rows = past.rows();
    if (rows.empty()) return;
    while (rows.back().t - rows[first_].t > reach) ++first_;
    length_ = rows.back().t - rows[first_].t;
    // Two chains of halved time constants: the exponentials of one are the squares of the other's.
    tau_[taus - 1] = 40 * 16 * square_root(2), tau_[taus - 2] = 40 * 16;
    for (std::size_t k = taus - 2; k-- > 0;) tau_[k] = tau_[k + 2] / 2;
  }

  [[nodiscard]] constexpr std::size_t rows() const noexcept { return past_.rows().size() - first_; }

  /// Level, time before the newest row, exponentials of 1 at the oldest row.
  [[nodiscard]] constexpr std::array<double, columns> basis(double t) const noexcept {
    std::array<double, columns> out{};
    const double age = t - past_.rows()[first_].t;
    out[0] = 1;
    out[1] = age - length_;
    out[columns - 1] = decay(age / tau_[taus - 1]);
    out[columns - 2] = decay(age / tau_[taus - 2]);
    for (std::size_t k = columns - 2; k-- > 2;) out[k] = out[k + 2] * out[k + 2];
    return out;
  }

  constexpr void sum_up() noexcept {
    const double base = past_.rows().back().y;
    for (std::size_t i = 0; i < rows(); ++i) {
      const coarse_rows& row = past_.rows()[first_ + i];
      const auto b = basis(row.t);
      const double y = row.y - base;
      for (std::size_t p = 0; p < columns; ++p) {
        const double weighted = row.weight * b[p];
        for (std::size_t q = 0; q <= p; ++q) products_[p][q] += weighted * b[q];
        with_y_[p] += weighted * y;
      }
      y_with_y_ += row.weight * y * y;
    }
    end_ = basis(past_.rows().back().t);
  }

  /// Every choice under noise of `density`; the likeliest.
  constexpr const choice& weigh(double density, double limit) noexcept {
    steady_ = 1 / (steady_scale * limit * steady_scale * limit);
    dying_ = 1 / (dying_scale * limit * dying_scale * limit);
    std::size_t n = 0;
    const auto add = [&](choice c) {
      solve(c, density);
      if (n == 0 || c.says.likelihood > best_.says.likelihood) best_ = c;
      all_[n++] = c.says;
    };
    add({});
    for (std::size_t j = 0; j < taus; ++j) add({3, {0, 1, 2 + j, 0}});
    for (std::size_t j = 0; j < taus; ++j)
      for (std::size_t k = j + 1; k < taus; ++k) add({4, {0, 1, 2 + j, 2 + k}});
    return best_;
  }

  /// Normal equations by L D L'. As many choices share one number of exponentials, each has its
  /// part of that number's prior.
  constexpr void solve(choice& c, double density) const noexcept {
    std::array<std::array<double, most>, most> m{};
    std::array<double, most> right{}, at_end{};
    double prior = 1;
    for (std::size_t p = 0; p < c.terms; ++p) {
      for (std::size_t q = 0; q <= p; ++q) {
        const std::size_t a = std::max(c.column[p], c.column[q]);
        m[p][q] = products_[a][std::min(c.column[p], c.column[q])] / density;
      }
      right[p] = with_y_[c.column[p]] / density;
      if (p == 1) m[p][p] += steady_, at_end[p] = 1;
      if (p < 2) continue;
      m[p][p] += dying_, prior *= dying_;
      at_end[p] = -end_[c.column[p]] / tau_[c.column[p] - 2];
    }
    double determinant = 1;
    for (std::size_t j = 0; j < c.terms; ++j) {
      const double floor = 1e-12 * m[j][j];  // what is left of two columns that are nearly one
      for (std::size_t k = 0; k < j; ++k) m[j][j] -= m[j][k] * m[j][k] * m[k][k];
      m[j][j] = std::max(m[j][j], floor);
      determinant *= m[j][j];
      for (std::size_t i = j + 1; i < c.terms; ++i) {
        for (std::size_t k = 0; k < j; ++k) m[i][j] -= m[i][k] * m[j][k] * m[k][k];
        m[i][j] /= m[j][j];
      }
    }
    double explained = 0;
    for (std::size_t j = 0; j < c.terms; ++j) {  // forward, both right-hand sides
      for (std::size_t k = 0; k < j; ++k) {
        right[j] -= m[j][k] * right[k];
        at_end[j] -= m[j][k] * at_end[k];
      }
      explained += right[j] * right[j] / m[j][j];
      c.says.rate += right[j] * at_end[j] / m[j][j];
      c.says.variance += at_end[j] * at_end[j] / m[j][j];
    }
    for (std::size_t j = c.terms; j-- > 0;) {
      c.size[j] = right[j] / m[j][j];
      for (std::size_t k = j + 1; k < c.terms; ++k) c.size[j] -= m[k][j] * c.size[k];
    }
    const double alike = c.terms == 2 ? 1 : c.terms == 3 ? taus : taus * (taus - 1) / 2.0;
    const double left = y_with_y_ / density - explained;
    c.says.likelihood = -left / 2 - natural_log(determinant / prior) / 2 - natural_log(alike);
  }

  /// The noise's density as what a choice leaves over shows it.
  [[nodiscard]] constexpr double density_left(const choice& c, double floor) noexcept {
    const double base = past_.rows().back().y;
    double squares = 0, neighbours = 0, before = 0;
    for (std::size_t i = 0; i < rows(); ++i) {
      const coarse_rows& row = past_.rows()[first_ + i];
      const auto b = basis(row.t);
      double left = row.y - base;
      for (std::size_t p = 0; p < c.terms; ++p) left -= c.size[p] * b[c.column[p]];
      left *= square_root(row.weight);
      squares += left * left;
      if (i > 0) neighbours += left * before;
      before = left;
    }
    const auto n = static_cast<double>(rows()), k = static_cast<double>(c.terms);
    const double lag_one = squares > 0 ? neighbours / squares : 0;
    const double unbiased = lag_one + (k - 1 + (k + 1) * lag_one) / n;
    const double g = variance_inflation(std::clamp(unbiased, 0.0, 0.95));
    freedom_ = std::max(1.0, n / g - k);
    return std::max(squares / (n - k), floor) * g;
  }

  [[nodiscard]] constexpr relaxed_rate answer(const relaxation_demands& d) const noexcept {
    double mass = 0, mean = 0, square = 0;
    for (const told& c : all_) {
      const double m = decay(best_.says.likelihood - c.likelihood);
      mass += m;
      mean += m * c.rate;
    }
    mean /= mass;
    for (const told& c : all_) {
      const double off = c.rate - mean;
      square += decay(best_.says.likelihood - c.likelihood) * (c.variance + off * off);
    }
    const double between = grid_share * d.limit, size = mean > 0 ? mean : -mean;
    const double u = square_root(square / mass + between * between);
    const double half = student_t(d.confidence, freedom_) * u + d.rounding / length_;
    return {mean, u, freedom_, size + half};
  }

  const coarse_past& past_;
  std::size_t first_ = 0;  // row that is looked at
  double length_ = 0;
  std::array<double, taus> tau_{};
  std::array<std::array<double, columns>, columns> products_{};
  std::array<double, columns> with_y_{}, end_{};
  double y_with_y_ = 0, steady_ = 0, dying_ = 0, freedom_ = 1;
  std::array<told, choices> all_{};
  choice best_{};
};

}  // namespace stilling
