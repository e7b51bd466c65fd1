// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#pragma once

// exp, ln and sin from + - * / and exact scaling alone, in a fixed order: the C library's own
// differ between machines in the last bit, and an invented test must be the same bytes everywhere
// for one seed (built with -ffp-contract=off, as everything here is).
// Relative error below 1e-14 in the ranges the simulator uses; not meant for anything else.

#include <array>
#include <cmath>
#include <cstddef>

namespace stilling::invented {

/// e^x for any finite x below 700; 0 below -700.
inline double exponential(double x) {
  if (x < -700.0) return 0.0;
  constexpr auto log2_e = 1.4426950408889634;
  constexpr auto ln2_high = 0.693147180369123816490, ln2_low = 1.90821492927058770002e-10;
  const auto turns = std::floor(x * log2_e + 0.5);
  const auto rest = (x - turns * ln2_high) - turns * ln2_low;  // |rest| <= 0.35
  constexpr auto one_over = [] {
    auto result = std::array<double, 14>{};
    for (std::size_t n = 0; n < result.size(); ++n) result[n] = 1.0 / static_cast<double>(n + 1);
    return result;
  }();
  auto sum = 1.0;
  for (auto n = one_over.size(); n-- > 0;) sum = 1.0 + sum * rest * one_over[n];  // Taylor, Horner
  return std::ldexp(sum, static_cast<int>(turns));
}

/// Natural logarithm of a positive, finite x.
inline double logarithm(double x) {
  auto exponent = 0;
  auto mantissa = std::frexp(x, &exponent);
  if (mantissa < 0.70710678118654752) {
    mantissa *= 2.0;
    --exponent;
  }
  const auto s = (mantissa - 1.0) / (mantissa + 1.0);  // ln m = 2 artanh s, |s| < 0.172
  auto sum = 0.0;
  for (auto n = 21; n > 0; n -= 2) sum = sum * s * s + 1.0 / n;
  return 2.0 * s * sum + exponent * 0.69314718055994531;
}

/// sin(2 pi x): x counts turns.
inline double sine_of_turns(double x) {
  auto turn = x - std::floor(x + 0.5);  // -0.5 .. 0.5
  if (turn > 0.25) turn = 0.5 - turn;
  if (turn < -0.25) turn = -0.5 - turn;
  const auto angle = turn * 6.283185307179586;
  const auto square = angle * angle;
  auto sum = 1.0;
  for (auto n = 20; n > 0; n -= 2) sum = 1.0 - sum * square / (n * (n + 1));
  return angle * sum;
}

/// x^p for positive x.
inline double power(double x, double p) { return exponential(p * logarithm(x)); }

/// Share of a step that a first-order lag of `tau` s has not yet followed after `dt` s.
inline double decay(double dt, double tau) { return tau > 0.0 ? exponential(-dt / tau) : 0.0; }

/// A first-order lag of time constant `tau` s, stepped every `dt` s.
class lag {
 public:
  lag(double tau, double dt) : kept_{decay(dt, tau)} {}
  double operator()(double from, double to) const { return to + (from - to) * kept_; }

 private:
  double kept_;
};

}  // namespace stilling::invented
