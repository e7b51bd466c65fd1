// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT

#include "stilling/estimators/drift_line.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <type_traits>

namespace stilling {
namespace {

static_assert(std::is_trivially_copyable_v<drift_line>);

constexpr checked_point point(double reference, double before, double after) {
  return {reference, before, after, {}, {}, {}};
}

// 40 CFR 1065.672(d)(2) (2015 ed.), example: r0 = 0, rs = 1800.0, s1 = 1800.5, s2 = 1695.8,
// z1 = 0.6, z2 = -5.2, x = 435.5; printed result 450.2, computed again in ten digits 450.192808.
constexpr drift_line published{point(0, 0.6, -5.2), point(1800, 1800.5, 1695.8)};
static_assert(published.corrected(435.5) > 450.192807 && published.corrected(435.5) < 450.192809);

TEST(drift_line, worked_example_of_the_regulation) {
  EXPECT_NEAR(published.corrected(435.5), 450.2, 0.05);
  EXPECT_NEAR(published.corrected(435.5), 450.192808, 1e-6);
  EXPECT_NEAR(published.indicated(published.corrected(435.5)), 435.5, 1e-9);
}

TEST(drift_line, what_the_form_says_by_itself) {
  // The mean of the zeros reads the zero's reference, that of the spans the span's.
  EXPECT_NEAR(published.corrected(-2.3), 0, 1e-12);
  EXPECT_NEAR(published.corrected((1800.5 + 1695.8) / 2), 1800, 1e-9);
  // Without drift nothing changes.
  const drift_line still{point(0, 0, 0), point(1800, 1800, 1800)};
  for (const double x : {-3.0, 0.0, 435.5, 2000.0}) EXPECT_EQ(still.corrected(x), x);
}

TEST(drift_line, a_zero_that_was_not_checked_keeps_its_reference) {
  // A cell that reads 20.1 % in air, 5.00 % in the flue: 5.00 * 20.9 / 20.1 = 5.199 %.
  const drift_line scaled{std::nullopt, point(0.209, 0.201, 0.201)};
  EXPECT_NEAR(scaled.corrected(0.05), 0.0519900498, 1e-9);
  EXPECT_EQ(scaled.corrected(0), 0);
  // It may as well have been shifted: 5.8 % lies within twice the uncertainty.
  EXPECT_GT(scaled.corrected(0.05) + 2 * scaled.added_at(0.05).standard, 0.058);
  EXPECT_NEAR(scaled.added_at(0.201).standard, 0, 1e-12) << "where it was checked nothing is open";
}

TEST(drift_line, without_a_span_the_sensitivity_is_as_it_was_set) {
  const drift_line shifted{point(0, -12e-6, -12e-6), std::nullopt};
  EXPECT_NEAR(shifted.corrected(38e-6), 50e-6, 1e-15);
  EXPECT_EQ(shifted.slope(), 1);
  EXPECT_EQ(shifted.added_at(38e-6).standard, 0);
}

TEST(drift_line, uncertainty_part_by_part) {
  // Each alone, at the span itself and at half of it, zero checked and right.
  const auto zero = point(0, 0, 0);
  checked_point span{100, 100, 100, {2}, {}, {}};
  EXPECT_NEAR(drift_line(zero, span).added_at(100).standard, 1, 1e-12) << "half weight";
  EXPECT_NEAR(drift_line(zero, span).added_at(50).standard, 0.5, 1e-12);
  span = {100, 100, 100, {}, {}, {2}};
  EXPECT_NEAR(drift_line(zero, span).added_at(50).standard, 1, 1e-12) << "the reference, in full";
  // The course between 98 and 102: anywhere, rectangular (JCGM 100:2008 4.3.7).
  span = {100, 98, 102, {}, {}, {}};
  EXPECT_NEAR(drift_line(zero, span).added_at(100).standard, 2 / std::sqrt(3.0), 1e-12);
  // Zero and span together, by the root of the sum of squares.
  const checked_point loose{0, 0, 0, {2}, {2}, {}};
  span = {100, 100, 100, {2}, {2}, {}};
  EXPECT_NEAR(drift_line(loose, span).added_at(50).standard,
              std::sqrt(0.25 * 2 + 0.25 * 2), 1e-12);
}

/// Whatever monotone course a drift takes between two exact checks, twice the uncertainty holds the
/// truth: that is what it is for.
TEST(drift_line, covers_every_course_that_does_not_turn_back) {
  for (const double drift : {-8.0, 3.0}) {
    const drift_line line{point(0, 0, drift), std::nullopt};
    for (int course = 0; course < 3; ++course) {
      for (int i = 0; i <= 20; ++i) {
        const double w = i / 20.0;
        const double off = drift * (course == 0 ? w : course == 1 ? std::sqrt(w) : w * w * w);
        EXPECT_LE(std::abs(line.corrected(30 + off) - 30), 2 * line.added_at(30 + off).standard);
      }
    }
  }
}

TEST(drift_line, one_look_counts_in_full) {
  const auto once = checked_point::seen_once(0, -12, {0.4});
  EXPECT_EQ(once.mean(), -12);
  EXPECT_NEAR(once.of_mean().standard, 0.4, 1e-12);
}

TEST(drift_line, the_worse_of_two_looks_says_how_far_off_it_was) {
  EXPECT_DOUBLE_EQ(point(20.9, 20.7, 21.2).most_off(), 21.2 - 20.9);
  EXPECT_DOUBLE_EQ(point(20.9, 20.5, 21.0).most_off(), 20.9 - 20.5);
}

}  // namespace
}  // namespace stilling
