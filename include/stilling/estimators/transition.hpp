// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#pragma once

#include <array>
#include <cmath>
#include <optional>

#include "stilling/terms/time.hpp"

/// When a series went from one level to another: the mean time of the transition, the centre of
/// gravity of its rate of change,
///
///     centre = end - integral of (x - x0) dt / (x1 - x0)
///
/// For what passes through a chain of delays and first-order lags the centre moves by the sum of
/// all dead times and time constants (the first moment of an impulse response is additive), so that
/// the difference of two centres is the mean lag of one series behind another, whatever their
/// shapes.
/// Fed with each value and, where it is known to stand, with its level; no more than that is kept.
namespace stilling {

/// Where a series stands, as shown by its newest minute.
struct standing {
  double level = 0;
  double scatter = 0;        // standard deviation of its values
  double noise_density = 0;  // variance of a mean over T seconds is this / T
  double step = 0;           // of the display
};

struct passage {
  instant stood{};         // since when, before
  instant left{};          // the value at which it no longer stood
  instant centre{};
  double uncertainty = 0;  // of the centre, s; standard
  friend constexpr bool operator==(const passage&, const passage&) = default;
};

class transition {
 public:
  /// `now`: none while it does not stand.
  constexpr void update(instant t, double x, const std::optional<standing>& now) noexcept {
    const double past = newest_ ? in_seconds(t - *newest_) : 0;
    if (past > longest_gap) *this = transition{};
    const double swept = past * (x + x_) / 2;
    for (mark& m : marks_) {
      if (!m.from) continue;
      m.area += swept;
      m.lowest = m.lowest < x ? m.lowest : x;
      m.highest = m.highest > x ? m.highest : x;
    }
    if (past > spacing_) spacing_ = past;
    newest_ = t;
    x_ = x;
    if (!now) {
      if (!away_ && marks_[0].from) away_ = true, left_ = t;
      arrived_.reset();
      if (!away_) marks_[1].from.reset();
      return;
    }
    if (away_) {
      if (!arrived_) arrived_ = t;
      conclude(t, *now);
      if (t - *arrived_ < refined_for) return;
      stood_ = *arrived_;
      away_ = false;
      arrived_.reset();
      marks_ = {};
    } else if (!marks_[1].from) {
      stood_ = t;
    }
    if (marks_[1].from && t - *marks_[1].from < look_back) return;
    marks_[0] = marks_[1];
    marks_[1] = {t, *now, 0, x, x};
    spacing_ = 0;
  }

  /// Of the newest transition from a level to another, where it was not seen to turn back.
  [[nodiscard]] constexpr const std::optional<passage>& newest() const noexcept { return told_; }
  /// When it last left a level; none where no level was seen before.
  [[nodiscard]] constexpr const std::optional<instant>& left() const noexcept { return left_; }
  /// It has left and not arrived.
  [[nodiscard]] constexpr bool moves() const noexcept { return away_ && !arrived_; }

 private:
  static constexpr double longest_gap = 120;           // s
  static constexpr duration look_back = seconds(20);   // its first rows still pass for the level
  static constexpr duration refined_for = seconds(60); // the end of an approach is long
  static constexpr double overshoot = 0.15;            // of the way, on either side
  static constexpr double level_from = 60;             // s that show a level

  /// A moment while it stood, and what came since.
  struct mark {
    std::optional<instant> from;
    standing stood;
    double area = 0;  // of x over time
    double lowest = 0, highest = 0;
  };

  constexpr void conclude(instant t, const standing& now) noexcept {
    const mark& m = marks_[0];
    const double x0 = m.stood.level, x1 = now.level, way = x1 - x0;
    const double size = way > 0 ? way : -way;
    const double beyond = overshoot * size + 4 * (m.stood.scatter + now.scatter) / 2;
    const double low = way > 0 ? x0 : x1, high = way > 0 ? x1 : x0;
    told_.reset();
    if (!(size > 0) || m.lowest < low - beyond || m.highest > high + beyond) return;
    const double length = in_seconds(t - *m.from);
    const double after = (m.area - x0 * length) / way;  // s from the centre to now
    const auto back = duration_from_seconds(after);
    if (!back) return;
    const double before = length - after;
    const double of_start = variance_of(m.stood) * before * before;
    const double of_end = variance_of(now) * after * after;
    const double of_rows = (m.stood.noise_density + now.noise_density) / 2 * length;
    const double of_spacing = spacing_ * spacing_ / 12;
    told_ = passage{stood_, *left_, t - *back,
                    std::sqrt((of_start + of_end + of_rows) / (way * way) + of_spacing)};
  }

  [[nodiscard]] static constexpr double variance_of(const standing& s) noexcept {
    return s.noise_density / level_from + s.step * s.step / 12;
  }

  std::optional<instant> newest_, left_, arrived_;
  bool away_ = false;
  instant stood_{};
  double x_ = 0, spacing_ = 0;
  std::array<mark, 2> marks_;  // at least look_back apart, the older first
  std::optional<passage> told_;
};

/// How far one transition lies behind another, in seconds. None where they are not shown to have
/// one cause, which asks that the follower stood when the leader left and left within two minutes,
/// not before; where it does not lag; or where the standard uncertainty is above 6 s. Our own
/// choice.
[[nodiscard]] constexpr std::optional<double> lag_behind(const passage& leader,
                                                         const passage& follower) noexcept {
  constexpr duration slack = seconds(15), longest = seconds(120);  // leaving is seen late
  constexpr double least_certain = 6;
  if (follower.stood > leader.left || follower.left + slack < leader.left ||
      follower.left - leader.left > longest)
    return std::nullopt;
  const double behind = in_seconds(follower.centre - leader.centre);
  const double u = std::sqrt(leader.uncertainty * leader.uncertainty +
                             follower.uncertainty * follower.uncertainty);
  if (u > least_certain || !(behind > 3 * u) || behind > in_seconds(longest)) return std::nullopt;
  return behind;
}

}  // namespace stilling
