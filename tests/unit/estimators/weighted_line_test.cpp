// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT

#include "stilling/estimators/weighted_line.hpp"

#include <gtest/gtest.h>

#include <array>
#include <cmath>
#include <cstddef>

namespace stilling {
namespace {

constexpr weighted_line through_three() {
  weighted_line l;
  l.push(0, 1), l.push(1, 3), l.push(2, 5);
  return l;
}
static_assert(through_three().rate() == 2 && through_three().at(3) == 7);
static_assert(through_three().squares() == 0 && through_three().variance() == 0);
static_assert(weighted_line{}.rate() == 0 && weighted_line{}.squares() == 0);

TEST(weighted_line, joins_as_if_pushed) {
  weighted_line all, left, right;
  for (int i = 0; i < 40; ++i) {
    const double t = 1e6 + i * 1.5, y = 300 + i * i % 7;
    all.push(t, y);
    (i < 13 ? left : right).push(t, y);
  }
  left.join(right);
  EXPECT_EQ(left.rows, 40);
  EXPECT_NEAR(left.rate(), all.rate(), 1e-12);
  EXPECT_NEAR(left.squares(), all.squares(), 1e-9);
}

// Generalised least squares with the full covariance matrix e^(-|dt|/tau), by its Cholesky factor.
TEST(weighted_line, is_generalised_least_squares_at_uneven_stamps) {
  constexpr std::size_t n = 8;
  constexpr std::array<double, n> t{0, 1, 1.5, 4, 4.2, 9, 10, 17};
  constexpr std::array<double, n> y{3, 4, 4.5, 2, 2.5, 8, 9, 11};
  constexpr double tau = 3;
  weighted_line line;
  line.push(t[0], y[0]);
  for (std::size_t i = 1; i < n; ++i)
    line.push(t[i], y[i], t[i - 1], y[i - 1], std::exp(-(t[i] - t[i - 1]) / tau));

  std::array<std::array<double, n>, n> factor{};
  for (std::size_t i = 0; i < n; ++i)
    for (std::size_t k = 0; k <= i; ++k) {
      double left = std::exp(-std::abs(t[i] - t[k]) / tau);
      for (std::size_t m = 0; m < k; ++m) left -= factor[i][m] * factor[k][m];
      factor[i][k] = i == k ? std::sqrt(left) : left / factor[k][k];
    }
  const auto whitened = [&](std::array<double, n> x) {
    for (std::size_t i = 0; i < n; ++i) {
      for (std::size_t k = 0; k < i; ++k) x[i] -= factor[i][k] * x[k];
      x[i] /= factor[i][i];
    }
    return x;
  };
  const auto a = whitened({1, 1, 1, 1, 1, 1, 1, 1}), b = whitened(t), z = whitened(y);
  double aa = 0, ab = 0, bb = 0, az = 0, bz = 0;
  for (std::size_t i = 0; i < n; ++i)
    aa += a[i] * a[i], ab += a[i] * b[i], bb += b[i] * b[i], az += a[i] * z[i], bz += b[i] * z[i];
  const double rate = (aa * bz - ab * az) / (aa * bb - ab * ab), level = (az - rate * ab) / aa;
  double squares = 0;
  for (std::size_t i = 0; i < n; ++i) {
    const double left = z[i] - level * a[i] - rate * b[i];
    squares += left * left;
  }
  EXPECT_NEAR(line.rate(), rate, 1e-12);
  EXPECT_NEAR(line.at(0), level, 1e-12);
  EXPECT_NEAR(line.squares(), squares, 1e-10);
}

}  // namespace
}  // namespace stilling
