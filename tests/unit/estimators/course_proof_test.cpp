// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT

#include "stilling/estimators/course_proof.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <optional>

namespace stilling {
namespace {

constexpr instant start = instant{} + seconds(1440000000);
constexpr double limit = 3.0 / 60;

/// Second at which it is first allowed with an answer.
template <class Course> std::optional<int> allowed_at(Course y, int until) {
  course_proof proof;
  for (int t = 0; t <= until; ++t) {
    proof.update(start + seconds(t), y(t));
    if (proof.ask(true, {limit, 0.05}, limit) && proof.allows()) return t;
  }
  return std::nullopt;
}

TEST(course_proof, comes_soon_after_the_truth_and_not_before_it) {
  const auto y = [](double t) { return 400 - 320 * std::exp(-t / 120); };
  const double truth = 120 * std::log(320 / 120.0 / limit);
  const auto found = allowed_at(y, 1200);
  ASSERT_TRUE(found);
  EXPECT_GE(*found, truth);
  EXPECT_LE(*found, truth + 80);
}

TEST(course_proof, never_comes_above_the_limit) {
  EXPECT_FALSE(allowed_at([](double t) { return 300 + 4.0 / 60 * t; }, 1500));
  EXPECT_TRUE(allowed_at([](double t) { return 300 + 2.0 / 60 * t; }, 1500));
}

TEST(course_proof, allows_for_rounding_that_nothing_dithers) {
  const auto bound = [](double rounding) {
    course_proof proof;
    for (int t = 0; t <= 300; ++t) proof.update(start + seconds(t), 300);
    const auto& found = proof.ask(true, {limit, 0.05, 0, 0.95, rounding}, limit);
    return found ? found->bound : -1;
  };
  EXPECT_NEAR(bound(1.5) - bound(0), 1.5 / 288, 1e-4);  // between the middles of first and last
}

TEST(course_proof, has_nothing_to_say_against_other_proof_while_the_past_is_short) {
  course_proof proof;
  EXPECT_TRUE(proof.allows());
  for (int t = 0; t <= 120; ++t) proof.update(start + seconds(t), 300);
  EXPECT_FALSE(proof.ask(true, {limit, 0.05}, limit));
  EXPECT_TRUE(proof.allows());
  for (int t = 121; t <= 270; ++t) proof.update(start + seconds(t), 300);
  EXPECT_TRUE(proof.ask(true, {limit, 0.05}, limit));
  EXPECT_FALSE(proof.allows()) << "one answer is not enough";
  proof.clear();
  EXPECT_TRUE(proof.allows());
}

}  // namespace
}  // namespace stilling
