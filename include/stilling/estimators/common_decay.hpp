// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#pragma once

#include <algorithm>
#include <array>
#include <cstddef>
#include <optional>

#include "stilling/estimators/exponential.hpp"
#include "stilling/terms/time.hpp"

/// Do several series decay in step: each from an offset of its own to a level of its own, all since
/// the first row and with one time constant? What warms up as a whole does that; things that move
/// for reasons of their own do not keep the same time.
///
/// Per series y = level + size e^(-t/tau) is fitted by least squares at every tau of a grid, and a
/// straight line beside them. A series decays where the best curve leaves at most a fifth of its
/// variance; it keeps the time of a place on the grid where that is next to its best, or leaves
/// hardly more. Taken together, the curves must fit better than lines by more than chance. O(1) per
/// row, nothing is kept but sums. The numbers are our own choice.
namespace stilling {

struct decay_in_step {
  double time_constant = 0;  // seconds
  double remaining = 0;      // of the reference series, signed: its level less its curve now
  std::size_t with = 0;      // other series in step with it
};

template <std::size_t Series> class common_decay {
 public:
  static constexpr double shortest = 20, longest = 800;  // seconds: the grid's ends

  /// Seconds since the first row of all.
  [[nodiscard]] constexpr double age(instant t) const noexcept {
    return origin_ ? in_seconds(t - *origin_) : 0;
  }

  /// One row; a series that is not heard in it is left out. Rows less than a second apart say
  /// nothing new and are passed over.
  template <class ValueOf> constexpr void update(instant t, const ValueOf& value_of) noexcept {
    if (!origin_) lay_out(t);
    if (newest_ && t - *newest_ < seconds(1)) return;
    newest_ = t;
    const double x = age(t);
    std::array<double, shapes> now{};
    for (std::size_t k = 0; k < taus; ++k) now[k] = decay(x / grid_[k]);
    now[line] = x / longest;
    for (std::size_t i = 0; i < Series; ++i)
      if (const std::optional<double> y = value_of(i)) series_[i].add(*y, now);
  }

  /// The decay of `reference`, and what is in step with it; nothing where it does not decay.
  [[nodiscard]] constexpr std::optional<decay_in_step> decay_of(
      std::size_t reference) const noexcept {
    std::array<std::optional<std::size_t>, Series> best{};
    for (std::size_t i = 0; i < Series; ++i) best[i] = series_[i].best();
    if (!best[reference]) return std::nullopt;
    std::optional<common_time> found;
    for (std::size_t k = 1; k + 1 < taus; ++k) {
      if (!keeps_time(reference, *best[reference], k)) continue;
      common_time here{k, {}, 0, 0, 0};
      for (std::size_t i = 0; i < Series; ++i)
        if (best[i] && keeps_time(i, *best[i], k)) here.add(i, series_[i], independent());
      const bool better = !found || here.count > found->count ||
                          (here.count == found->count && here.left < found->left);
      if (better) found = here;
    }
    if (!found || found->evidence < beyond_chance) return std::nullopt;
    // What goes straight on decays with any time constant that is long enough.
    const double bend = series_[reference].better_than_line(found->place) * independent();
    if (bend < bent_at_least) return std::nullopt;
    return between_places(*found, series_[reference]);
  }

 private:
  static constexpr std::size_t taus = 16, line = taus, shapes = taus + 1;
  static constexpr double least_rows = 8;
  static constexpr double left_at_most = 0.2;    // share of a series' variance
  static constexpr double beyond_chance = 15;    // of a ratio of squares; one in 10 000
  static constexpr double bent_at_least = 10;    // likewise; one in 600
  static constexpr double within_chance = 6;     // likewise; one in 70
  static constexpr double seconds_of_noise = 4;  // rows nearer than that say the same

  struct sums {
    double n = 0, first = 0, y = 0, yy = 0;
    std::array<double, shapes> e{}, ee{}, ey{};

    constexpr void add(double value, const std::array<double, shapes>& now) noexcept {
      if (n == 0) first = value;
      const double v = value - first;
      n += 1, y += v, yy += v * v;
      for (std::size_t k = 0; k < shapes; ++k)
        e[k] += now[k], ee[k] += now[k] * now[k], ey[k] += now[k] * v;
    }
    [[nodiscard]] constexpr double size(std::size_t k) const noexcept {
      return (ey[k] - e[k] * y / n) / (ee[k] - e[k] * e[k] / n);
    }
    /// Share of the variance the shape leaves over.
    [[nodiscard]] constexpr double unexplained(std::size_t k) const noexcept {
      const double all = yy - y * y / n;
      return 1 - size(k) * (ey[k] - e[k] * y / n) / all;
    }
    /// In shares of what the shape leaves over.
    [[nodiscard]] constexpr double better_than_line(std::size_t k) const noexcept {
      return unexplained(line) / unexplained(k) - 1;
    }
    /// Where on the grid it decays, if it does.
    [[nodiscard]] constexpr std::optional<std::size_t> best() const noexcept {
      if (n < least_rows || !(yy - y * y / n > 1e-12 * yy)) return std::nullopt;
      std::size_t k = 0;
      for (std::size_t j = 1; j < taus; ++j)
        if (unexplained(j) < unexplained(k)) k = j;
      if (unexplained(k) > left_at_most) return std::nullopt;
      return k;
    }
  };

  struct common_time {
    std::size_t place;
    std::array<bool, Series> joins;
    std::size_t count;
    double left, evidence;  // shares left over; by how much better than lines

    constexpr void add(std::size_t i, const sums& s, double independent) noexcept {
      joins[i] = true;
      ++count;
      left += s.unexplained(place);
      evidence += s.better_than_line(place) * independent;
    }
  };

  /// How many independent values the time so far is worth.
  [[nodiscard]] constexpr double independent() const noexcept {
    return age(*newest_) / seconds_of_noise;
  }

  [[nodiscard]] constexpr bool keeps_time(std::size_t i, std::size_t best,
                                          std::size_t k) const noexcept {
    if (k <= best + 1 && best <= k + 1) return true;
    const double least = series_[i].unexplained(best);
    return (series_[i].unexplained(k) - least) * independent() <= within_chance * least;
  }

  constexpr void lay_out(instant t) noexcept {
    origin_ = t;
    const double step = natural_log(longest / shortest) / (taus - 1);
    for (std::size_t k = 0; k < taus; ++k)
      grid_[k] = longest * decay(step * static_cast<double>(taus - 1 - k));
  }

  /// Between the places of the grid by a parabola through what all together leave over.
  [[nodiscard]] constexpr decay_in_step between_places(const common_time& at,
                                                       const sums& reference) const noexcept {
    const auto left_by_all = [&](std::size_t k) {
      double left = 0;
      for (std::size_t i = 0; i < Series; ++i)
        if (at.joins[i]) left += series_[i].unexplained(k);
      return left;
    };
    const auto k = at.place;
    const double before = left_by_all(k - 1), here = left_by_all(k), after = left_by_all(k + 1);
    const double bend = before - 2 * here + after;
    const double off = bend > 0 ? std::clamp((before - after) / (2 * bend), -1.0, 1.0) : 0;
    const auto between = [&](double left, double middle, double right) {
      return middle + off * ((right - left) / 2 + off * ((right + left) / 2 - middle));
    };
    const auto remaining = [&](std::size_t j) {
      return -reference.size(j) * decay(age(*newest_) / grid_[j]);
    };
    return {between(grid_[k - 1], grid_[k], grid_[k + 1]),
            between(remaining(k - 1), remaining(k), remaining(k + 1)), at.count - 1};
  }

  std::optional<instant> origin_, newest_;
  std::array<double, taus> grid_{};
  std::array<sums, Series> series_{};
};

}  // namespace stilling
