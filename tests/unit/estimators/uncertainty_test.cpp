// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT

#include "stilling/estimators/uncertainty.hpp"

#include <gtest/gtest.h>

#include <array>
#include <cmath>
#include <random>
#include <span>
#include <string_view>
#include <type_traits>
#include <vector>

namespace stilling {
namespace {

static_assert(std::is_trivially_copyable_v<running_moments>);
static_assert(std::is_trivially_copyable_v<uncertainty>);
static_assert(square_root(0) == 0 && square_root(2) == 1.4142135623730951);
static_assert(variance_inflation(0.5) == 3 && variance_inflation(0) == 1);
static_assert(expand(0.5, 2) == 1);
static_assert(proven_size(-3, 4) == 3 - many_looks && proven_size(1, 3) < 0);
static_assert(student_t(0.95, infinite_freedom) < student_t(0.95, 30));

void expect_relative(double found, double wanted, double tolerance) {
  EXPECT_NEAR(found, wanted, tolerance * std::abs(wanted));
}

// --- square roots ---------------------------------------------------------------------------

struct root_table {
  static constexpr std::size_t count = 2000;
  std::array<double, count> of{}, root{};
};
constexpr root_table roots_by_the_compiler = [] {
  root_table t;
  std::uint64_t bits = 88172645463325252U;  // xorshift
  for (std::size_t i = 0; i < root_table::count; ++i) {
    bits ^= bits << 13, bits ^= bits >> 7, bits ^= bits << 17;
    const double scale = i % 3 == 0 ? 1e-20 : i % 3 == 1 ? 1e-30 : 1e200;
    t.of[i] = static_cast<double>(bits >> 11) * scale;
    t.root[i] = square_root(t.of[i]);
  }
  return t;
}();

TEST(square_root, has_the_same_bits_at_compile_time_and_at_run_time) {
  for (std::size_t i = 0; i < root_table::count; ++i)
    ASSERT_EQ(roots_by_the_compiler.root[i], std::sqrt(roots_by_the_compiler.of[i]))
        << "of " << roots_by_the_compiler.of[i];
}

// --- moments --------------------------------------------------------------------------------

running_moments moments_of(std::span<const double> values) {
  running_moments m;
  for (double x : values) m.push(x);
  return m;
}

/// sum_{i<n} (y_i - m)(y_{i+1} - m) / sum (y_i - m)^2
double lag_one(std::span<const double> y, double mean) {
  double top = 0, bottom = 0;
  for (std::size_t i = 0; i < y.size(); ++i) {
    bottom += (y[i] - mean) * (y[i] - mean);
    if (i + 1 < y.size()) top += (y[i] - mean) * (y[i + 1] - mean);
  }
  return top / bottom;
}

std::vector<double> alternating_about(double mean) {
  std::vector<double> y{mean};
  for (int i = 0; i < 500; ++i) y.push_back(mean - 0.1), y.push_back(mean + 0.1);
  return y;
}

const std::vector<double> lew{
    -213, -564, -35, -15, 141, 115, -420, -360, 203, -338, -431, 194, -220, -513, 154, -125, -559,
    92, -21, -579, -52, 99, -543, -175, 162, -457, -346, 204, -300, -474, 164, -107, -572, -8, 83,
    -541, -224, 180, -420, -374, 201, -236, -531, 83, 27, -564, -112, 131, -507, -254, 199, -311,
    -495, 143, -46, -579, -90, 136, -472, -338, 202, -287, -477, 169, -124, -568, 17, 48, -568,
    -135, 162, -430, -422, 172, -74, -577, -13, 92, -534, -243, 194, -355, -465, 156, -81, -578,
    -64, 139, -449, -384, 193, -198, -538, 110, -44, -577, -6, 66, -552, -164, 161, -460, -344,
    205, -281, -504, 134, -28, -576, -118, 156, -437, -381, 200, -220, -540, 83, 11, -568, -160,
    172, -414, -408, 188, -125, -572, -32, 139, -492, -321, 205, -262, -504, 142, -83, -574, 0,
    48, -571, -106, 137, -501, -266, 190, -391, -406, 194, -186, -553, 83, -13, -577, -49, 103,
    -515, -280, 201, 300, -506, 131, -45, -578, -80, 138, -462, -361, 201, -211, -554, 32, 74,
    -533, -235, 187, -372, -442, 182, -147, -566, 25, 68, -535, -244, 194, -351, -463, 174, -125,
    -570, 15, 72, -550, -190, 172, -424, -385, 198, -218, -536, 96};

const std::vector<double> mavro{
    2.0018, 2.0017, 2.0018, 2.0019, 2.0018, 2.0017, 2.0015, 2.0014, 2.0015, 2.0015, 2.0017,
    2.0018, 2.0018, 2.0019, 2.0019, 2.0021, 2.002, 2.0016, 2.0014, 2.0013, 2.0013, 2.0015, 2.0015,
    2.0016, 2.0015, 2.0014, 2.0013, 2.0014, 2.0015, 2.0014, 2.0015, 2.0016, 2.0015, 2.0016,
    2.0019, 2.002, 2.002, 2.0021, 2.0022, 2.0023, 2.0024, 2.0025, 2.0027, 2.0026, 2.0026, 2.0026,
    2.0027, 2.0026, 2.0025, 2.0024};

struct certified {
  std::string_view name;
  std::vector<double> values;
  double mean, deviation, lag_one;
  double tolerance;  // of deviation and lag one: what double can hold of these values
};

// NIST StRD, univariate summary statistics, certified.
TEST(running_moments, agree_with_the_certified_values_of_nist) {
  const certified sets[]{
      {"NumAcc1", {10000001, 10000003, 10000002}, 10000002, 1, -0.5, 1e-13},
      {"NumAcc2", alternating_about(1.2), 1.2, 0.1, -0.999, 1e-12},
      {"NumAcc3", alternating_about(1000000.2), 1000000.2, 0.1, -0.999, 1e-9},
      {"NumAcc4", alternating_about(10000000.2), 10000000.2, 0.1, -0.999, 1e-8},
      {"Lew", lew, -177.435, 277.332168044316, -0.307304800605679, 1e-13},
      {"Mavro", mavro, 2.001856, 0.000429123454003053, 0.937989183438248, 1e-11},
  };
  for (const auto& set : sets) {
    SCOPED_TRACE(set.name);
    const auto m = moments_of(set.values);
    expect_relative(m.mean(), set.mean, 1e-14);
    expect_relative(std::sqrt(*m.variance()), set.deviation, set.tolerance);
    expect_relative(lag_one(set.values, m.mean()), set.lag_one, set.tolerance);
  }
}

TEST(running_moments, joined_are_as_good_as_in_one_go) {
  for (const auto* values : {&lew, &mavro}) {
    const auto whole = moments_of(*values);
    for (std::size_t cut = 0; cut <= values->size(); ++cut) {
      auto front = moments_of(std::span{*values}.first(cut));
      front.merge(moments_of(std::span{*values}.subspan(cut)));
      ASSERT_EQ(front.count(), whole.count());
      expect_relative(front.mean(), whole.mean(), 1e-14);
      expect_relative(*front.variance(), *whole.variance(), 1e-11);
    }
  }
}

// 40 CFR 1065.602 (b), (c) (2015 ed.), worked example.
TEST(running_moments, of_the_worked_example) {
  const auto m = moments_of(std::array{10.60, 11.91, 11.09});
  EXPECT_NEAR(m.mean(), 11.20, 0.005);
  EXPECT_NEAR(std::sqrt(*m.variance()), 0.6619, 0.00005);
}

TEST(running_moments, one_value_has_no_scatter_to_speak_of) {
  running_moments m;
  EXPECT_FALSE(m.variance());
  m.push(471);
  EXPECT_EQ(m.mean(), 471);
  EXPECT_FALSE(m.variance());
  m.push(471);
  EXPECT_EQ(m.variance(), 0.0);
}

// --- autocorrelation ------------------------------------------------------------------------

struct correlated {
  std::uint64_t n;
  double rho, inflation, effective, asymptotic;
};
// Bayley and Hammersley 1946; Zieba and Ramza 2011 (doi 10.2478/v10178-011-0052-x); values
// recomputed from 1 + 2 sum_{k=1}^{n-1} (1 - k/n) rho^k.
constexpr correlated correlated_means[]{
    {60, 0, 1, 60, 60},
    {60, 0.5, 2.933333, 20.454545, 20.0},
    {120, 0.6, 3.937500, 30.476190, 30.0},
    {60, 0.9, 16.005391, 3.748737, 3.157895},
    {200, 0.9, 18.100000, 11.049724, 10.526316},
    {30, 0.95, 19.104182, 1.570337, 1},  // 0.769231 would be less than one value
};

TEST(variance_inflation, of_a_mean_of_finitely_many) {
  for (const auto& row : correlated_means) {
    EXPECT_NEAR(variance_inflation(row.rho, row.n), row.inflation, 1e-5);
    const auto n = static_cast<double>(row.n);
    EXPECT_NEAR(effective_count(n, variance_inflation(row.rho, row.n)), row.effective, 1e-5);
    EXPECT_NEAR(effective_count(n, variance_inflation(row.rho)), row.asymptotic, 1e-5);
  }
}

TEST(variance_inflation, closed_form_is_the_sum) {
  for (const double rho : {-0.9, -0.3, 0.1, 0.7, 0.95, 0.999}) {
    for (const std::uint64_t n : {1U, 2U, 3U, 10U, 1000U}) {
      double sum = 1, power = 1;
      for (std::uint64_t k = 1; k < n; ++k) {
        power *= rho;
        sum += 2 * (1 - static_cast<double>(k) / static_cast<double>(n)) * power;
      }
      expect_relative(variance_inflation(rho, n), sum, 1e-8);
    }
  }
}

TEST(effective_count, is_never_more_than_there_are_nor_less_than_one) {
  EXPECT_EQ(effective_count(10, 0.5), 10) << "values that alternate are no reason to claim more";
  EXPECT_EQ(effective_count(10, 100), 1);
}

TEST(corrected_autocorrelation, adds_back_what_a_fitted_line_takes) {
  EXPECT_DOUBLE_EQ(corrected_autocorrelation(0.5, 60), 0.5 + 3.0 / 60);
  EXPECT_EQ(corrected_autocorrelation(-0.4, 60), 0) << "never below zero";
  EXPECT_EQ(corrected_autocorrelation(0.94, 20), 0.95) << "never above 0.95";
}

// The correction against the truth: AR(1) noise about a fitted line, the estimate made from the
// successive differences of its residuals, as `trend` does.
TEST(corrected_autocorrelation, is_nearly_unbiased) {
  std::mt19937_64 random{7};
  std::normal_distribution<double> normal;
  constexpr int n = 120, runs = 2000;
  for (const double rho : {0.3, 0.6}) {
    double raw = 0, corrected = 0;
    for (int run = 0; run < runs; ++run) {
      std::vector<double> y;
      double noise = normal(random), t_mean = (n - 1) / 2.0, ty = 0, tt = 0, y_mean = 0;
      for (int i = 0; i < n; ++i) {
        y.push_back(noise);
        y_mean += noise / n;
        noise = rho * noise + std::sqrt(1 - rho * rho) * normal(random);
      }
      for (int i = 0; i < n; ++i) {
        ty += (i - t_mean) * y[static_cast<std::size_t>(i)];
        tt += (i - t_mean) * (i - t_mean);
      }
      for (int i = 0; i < n; ++i)
        y[static_cast<std::size_t>(i)] -= y_mean + ty / tt * (i - t_mean);
      double squares = 0, steps = 0;
      for (std::size_t i = 0; i < n; ++i) {
        squares += y[i] * y[i];
        if (i > 0) steps += (y[i] - y[i - 1]) * (y[i] - y[i - 1]);
      }
      const double r = 1 - steps / (n - 1) / (2 * squares / (n - 2));
      raw += r / runs;
      corrected += corrected_autocorrelation(r, n) / runs;
    }
    EXPECT_LT(raw, rho - 0.015) << "the bias is there";
    EXPECT_NEAR(corrected, rho, 0.01) << "and is taken out";
  }
}

// NIST StRD Mavro: the naive standard uncertainty is 6.06872e-5, the honest one 4.679 times that.
// Recomputed from the certified values.
TEST(of_mean, knows_that_neighbours_lean_on_each_other) {
  const auto m = moments_of(mavro);
  const double rho = lag_one(mavro, m.mean());
  expect_relative(variance_inflation(rho, m.count()), 21.892677, 1e-5);
  expect_relative(of_mean(*m.variance(), m.count()).standard, 6.06872e-5, 1e-5);
  const auto u = of_mean(*m.variance(), m.count(), rho);
  expect_relative(u.standard, 2.83953e-4, 1e-5);
  expect_relative(u.degrees_of_freedom, 2.283869 - 1, 1e-5);
}

// --- type B, combination, expansion ---------------------------------------------------------

// JCGM 100:2008 4.3.7 and F.2.2.1.
TEST(type_b, of_a_bound_and_of_a_display_step) {
  EXPECT_NEAR(rectangular(1).standard, 0.577350, 1e-6);
  EXPECT_NEAR(of_resolution(1).standard, 0.288675, 1e-6);
  EXPECT_EQ(of_resolution(2).standard, rectangular(1).standard) << "a step of 2 is plus or minus 1";
  EXPECT_EQ(rectangular(1).degrees_of_freedom, infinite_freedom);
}

// JCGM 100:2008 G.4.1, Eq. G.2b: relative 0.25 % (n 10), 0.57 % (n 5), 0.82 % (n 15).
TEST(combine, example_of_welch_and_satterthwaite) {
  const auto u = combine({{0.25, 9}, {0.57, 4}, {0.82, 14}});
  EXPECT_NEAR(u.standard, 1.03, 0.005);
  EXPECT_NEAR(u.standard, 1.029466, 1e-6);
  EXPECT_NEAR(u.degrees_of_freedom, 19.0, 0.05);
  EXPECT_NEAR(u.degrees_of_freedom, 18.99874, 1e-5);
}

TEST(combine, of_parts_known_exactly_is_known_exactly) {
  const auto u = combine({rectangular(3), of_resolution(1)});
  EXPECT_NEAR(u.standard, std::sqrt(3 + 1.0 / 12), 1e-12);
  EXPECT_EQ(u.degrees_of_freedom, infinite_freedom);
}

TEST(combine, nothing_uncertain_is_not_a_division_by_zero) {
  EXPECT_EQ(combine({}), (uncertainty{0, infinite_freedom}));
  EXPECT_EQ(combine({{0, 3}, {0, 5}}), (uncertainty{0, infinite_freedom}));
}

TEST(combine, tiny_and_huge_parts_do_not_overflow) {
  const auto u = combine({{1e-9, 3}, {1e9, 7}});
  expect_relative(u.standard, 1e9, 1e-15);
  expect_relative(u.degrees_of_freedom, 7, 1e-12);
}

TEST(uncertainty, a_sensitivity_has_no_sign_left_and_leaves_the_freedom) {
  EXPECT_EQ((-2.0 * uncertainty{0.5, 9}), (uncertainty{1.0, 9}));
}

// JCGM 100:2008 G.1.2, Table E.1: the standard deviation of s from 30 values is 13 % of it. What
// Student's t makes of it: with 29 degrees of freedom k is 2.05 instead of 1.96.
TEST(coverage_factor, grows_where_little_was_seen) {
  EXPECT_NEAR(coverage_factor(infinite_freedom), 1.959964, 1e-6);
  EXPECT_NEAR(coverage_factor(29), 2.045230, 2e-6);  // recomputed
  EXPECT_NEAR(coverage_factor(1), 12.706205, 1e-5);
}

// --- Student's t ----------------------------------------------------------------------------

struct quantiles {
  double freedom, at_95, at_975, at_99, at_995;
};
// 40 CFR 1065.602 Table 1 (2015 ed.), two-sided 90 % and 95 %, three digits; here recomputed.
constexpr quantiles student_table[]{
    {1, 6.313752, 12.706205, 31.820516, 63.656741},
    {2, 2.919986, 4.302653, 6.964557, 9.924843},
    {3, 2.353363, 3.182446, 4.540703, 5.840909},
    {4, 2.131847, 2.776445, 3.746947, 4.604095},
    {5, 2.015048, 2.570582, 3.364930, 4.032143},
    {6, 1.943180, 2.446912, 3.142668, 3.707428},
    {7, 1.894579, 2.364624, 2.997952, 3.499483},
    {8, 1.859548, 2.306004, 2.896459, 3.355387},
    {9, 1.833113, 2.262157, 2.821438, 3.249836},
    {10, 1.812461, 2.228139, 2.763769, 3.169273},
    {15, 1.753050, 2.131450, 2.602480, 2.946713},
    {20, 1.724718, 2.085963, 2.527977, 2.845340},
    {30, 1.697261, 2.042272, 2.457262, 2.749996},
    {50, 1.675905, 2.008559, 2.403272, 2.677793},
    {100, 1.660234, 1.983972, 2.364217, 2.625891},
    {1000, 1.646379, 1.962339, 2.330083, 2.580755},
    {infinite_freedom, 1.644854, 1.959964, 2.326348, 2.575829},
};

TEST(student_t, agrees_with_every_row_of_the_table) {
  for (const auto& row : student_table) {
    SCOPED_TRACE(row.freedom);
    expect_relative(student_t(0.95, row.freedom), row.at_95, 1e-6);
    expect_relative(student_t(0.975, row.freedom), row.at_975, 1e-6);
    expect_relative(student_t(0.99, row.freedom), row.at_99, 1e-6);
    expect_relative(student_t(0.995, row.freedom), row.at_995, 1e-6);
  }
}

/// P(T > t) by Simpson's rule over the angle: with t = sqrt(nu) tan(a) the density is
/// cos^(nu-1)(a).
double beyond(double t, double nu) {
  constexpr int steps = 4000;
  const auto area = [nu](double from, double to) {
    const double h = (to - from) / steps;
    double sum = 0;
    for (int i = 0; i <= steps; ++i)
      sum += (i == 0 || i == steps ? 1 : i % 2 == 1 ? 4 : 2) *
             std::pow(std::max(0.0, std::cos(from + i * h)), nu - 1);
    return sum * h / 3;
  };
  const double half = std::acos(0.0);
  return area(std::atan(t / std::sqrt(nu)), half) / (2 * area(0, half));
}

// Between the rows, where effective numbers lie: the tail beyond the quantile has the right area.
TEST(student_t, is_right_for_any_real_degrees_of_freedom) {
  for (const double nu : {1.0, 1.3, 1.57, 2.283869, 3.5, 4.9, 7.7, 11.05, 20.45, 30.48, 77.7}) {
    for (const double p : {0.95, 0.975, 0.99, 0.995}) {
      SCOPED_TRACE(testing::Message() << "nu " << nu << ", p " << p);
      expect_relative(beyond(student_t(p, nu), nu), 1 - p, nu < 2 ? 1e-4 : 1e-6);
    }
  }
}

TEST(student_t, falls_with_every_degree_of_freedom) {
  for (const double p : {0.95, 0.975, 0.99, 0.995}) {
    double before = student_t(p, 1);
    for (double nu = 1.01; nu < 1e5; nu *= 1.01) {
      const double now = student_t(p, nu);
      ASSERT_LT(now, before) << "p " << p << ", nu " << nu;
      before = now;
    }
    EXPECT_LT(student_t(p, infinite_freedom), before);
  }
}

TEST(student_t, less_than_one_degree_of_freedom_is_taken_as_one) {
  EXPECT_EQ(student_t(0.95, 0.5), student_t(0.95, 1));
}

}  // namespace
}  // namespace stilling
