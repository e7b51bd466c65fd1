// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#pragma once

#include <optional>

#include "stilling/estimators/uncertainty.hpp"

/// What an instrument that was checked before and after would have read without its drift, in the
/// form of 40 CFR 1065.672(d)(2) (2015 ed.): the line through the means of both checks of its zero
/// and of its span,
///
///     x' = r0 + (rs - r0) (2 x - (z1 + z2)) / ((s1 + s2) - (z1 + z2)),
///
/// the same at every instant between them. A point that was not checked keeps its reference
/// ((d)(5) and (6) there); without a span the sensitivity is as it was set.
///
/// Uncertainty, by the GUM, of what the correction rests on:
///   * both checks' own, each with half weight;
///   * the course in between, which nobody saw: anywhere from the one check to the other, alike
///     (JCGM 100:2008 4.3.7), which covers every course that does not turn back;
///   * the reference's;
///   * a zero that was not checked, by as much as the span was ever found off: a shift of the whole
///     scale shows in one point as a loss of sensitivity does.
namespace stilling {

/// One point of the scale, shown to the instrument twice. Any unit, one throughout.
struct checked_point {
  double reference = 0;  // what is right
  double before = 0, after = 0;
  uncertainty of_before{}, of_after{}, of_reference{};

  [[nodiscard]] constexpr double mean() const noexcept { return (before + after) / 2; }
  /// One look that stands for both, and is worth one.
  [[nodiscard]] static constexpr checked_point seen_once(double reference, double x,
                                                         const uncertainty& u) noexcept {
    const auto each = square_root(2) * u;
    return {reference, x, x, each, each, {}};
  }
  /// How far off it was found, the worse time.
  [[nodiscard]] constexpr double most_off() const noexcept {
    const double a = before - reference, b = after - reference;
    const double size_a = a < 0 ? -a : a, size_b = b < 0 ? -b : b;
    return size_a > size_b ? size_a : size_b;
  }
  /// Of the point's indication at an unknown moment in between.
  [[nodiscard]] constexpr uncertainty of_mean() const noexcept {
    const double half = (after - before) / 2;
    return combine({0.5 * of_before, 0.5 * of_after, rectangular(half < 0 ? -half : half)});
  }
};

class drift_line {
 public:
  /// At least one of them; the indication of the span is above that of the zero.
  constexpr drift_line(const std::optional<checked_point>& zero,
                       const std::optional<checked_point>& span) noexcept
      : zero_{zero.value_or(checked_point{})},
        span_{span.value_or(checked_point{})},
        has_zero_{zero.has_value()},
        has_span_{span.has_value()} {
    STILLING_EXPECTS(has_zero_ || has_span_);
    STILLING_EXPECTS(!has_span_ || span_.mean() > zero_.mean());
  }

  [[nodiscard]] constexpr double corrected(double x) const noexcept {
    return zero_.reference + slope() * (x - zero_.mean());
  }
  /// What was indicated where this is the corrected value.
  [[nodiscard]] constexpr double indicated(double y) const noexcept {
    return zero_.mean() + (y - zero_.reference) / slope();
  }
  /// How much of what differs between two indications is left.
  [[nodiscard]] constexpr double slope() const noexcept {
    if (!has_span_) return 1;
    return (span_.reference - zero_.reference) / (span_.mean() - zero_.mean());
  }
  /// What the correction adds to the uncertainty of this indication.
  [[nodiscard]] constexpr uncertainty added_at(double x) const noexcept {
    if (!has_span_) return combine({zero_.of_mean(), zero_.of_reference});
    const double share = (x - zero_.mean()) / (span_.mean() - zero_.mean());
    const uncertainty zero = has_zero_ ? zero_.of_mean() : rectangular(span_.most_off());
    return combine({(slope() * share) * span_.of_mean(), share * span_.of_reference,
                    (slope() * (1 - share)) * zero, (1 - share) * zero_.of_reference});
  }

 private:
  checked_point zero_, span_;  // a zero that was not checked is 0 and reads 0
  bool has_zero_, has_span_;
};

}  // namespace stilling
