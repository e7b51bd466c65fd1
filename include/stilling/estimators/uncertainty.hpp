// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#pragma once

#include <cmath>
#include <cstddef>
#include <cstdint>
#include <initializer_list>
#include <limits>
#include <optional>
#include <type_traits>

#include "stilling/terms/expects.hpp"

/// From scatter to standard uncertainty, by the GUM (JCGM 100:2008): type A with autocorrelation,
/// type B, combination, expansion. Unit in, unit out: what goes in as kelvin comes out as kelvin.
/// Only + - x / and square roots in a fixed order, so that every machine finds the same bits.
namespace stilling {

/// Correctly rounded at run time by IEEE 754, at compile time by Newton's method and one exact
/// residual (Dekker 1971). `x` zero, or 1e-280 to 1e280.
[[nodiscard]] constexpr double square_root(double x) noexcept {
  STILLING_EXPECTS(x >= 0);
  if (!std::is_constant_evaluated()) return std::sqrt(x);
  if (x == 0) return x;
  double root = x > 1 ? x : 1;
  for (double next = (root + x / root) / 2; next < root; next = (root + x / root) / 2) root = next;
  const double wide = 134217729.0 * root;  // 2^27 + 1 splits a double in two halves
  const double high = wide - (wide - root), low = root - high;
  const double residual = ((x - high * high) - 2 * high * low) - low * low;
  return root + residual / (2 * root);
}

/// The mean of what was pushed so far.
class running_mean {
 public:
  constexpr void push(double x) noexcept {
    ++count_;
    mean_ += (x - mean_) / static_cast<double>(count_);
  }
  [[nodiscard]] constexpr std::uint64_t count() const noexcept { return count_; }
  /// Zero while `count()` is.
  [[nodiscard]] constexpr double mean() const noexcept { return mean_; }

 private:
  std::uint64_t count_ = 0;
  double mean_ = 0;
};

/// Mean and variance by Welford's recurrence (Technometrics 4(3), 1962), joined pairwise as Chan,
/// Golub and LeVeque do (1979): no sum of squares that cancels.
class running_moments {
 public:
  constexpr void push(double x) noexcept {
    ++count_;
    const double off = x - mean_;
    mean_ += off / static_cast<double>(count_);
    squares_ += off * (x - mean_);
  }
  /// As if the other's values had been pushed here.
  constexpr void merge(const running_moments& other) noexcept {
    if (other.count_ == 0) return;
    if (count_ == 0) {
      *this = other;
      return;
    }
    const auto a = static_cast<double>(count_), b = static_cast<double>(other.count_);
    const double off = other.mean_ - mean_;
    mean_ += off * (b / (a + b));
    squares_ += other.squares_ + off * off * (a * (b / (a + b)));
    count_ += other.count_;
  }
  [[nodiscard]] constexpr std::uint64_t count() const noexcept { return count_; }
  /// Zero while `count()` is.
  [[nodiscard]] constexpr double mean() const noexcept { return mean_; }
  /// With n - 1; unknown below two values.
  [[nodiscard]] constexpr std::optional<double> variance() const noexcept {
    if (count_ < 2) return std::nullopt;
    return squares_ / static_cast<double>(count_ - 1);
  }
  friend constexpr bool operator==(const running_moments&, const running_moments&) = default;

 private:
  std::uint64_t count_ = 0;
  double mean_ = 0;
  double squares_ = 0;
};

/// How many times larger the variance of a mean of many values is when each leans on the one before
/// by `rho`: (1 + rho)/(1 - rho), Bayley and Hammersley 1946. -1 < rho < 1.
[[nodiscard]] constexpr double variance_inflation(double rho) noexcept {
  STILLING_EXPECTS(rho > -1 && rho < 1);
  return (1 + rho) / (1 - rho);
}

/// The same for exactly `n` values: 1 + 2 sum over k of (1 - k/n) rho^k, in closed form.
[[nodiscard]] constexpr double variance_inflation(double rho, std::uint64_t n) noexcept {
  STILLING_EXPECTS(n > 0);
  double power = 1, square = rho;
  for (auto left = n; left > 0; left /= 2, square *= square)
    if (left % 2 == 1) power *= square;
  const double rest = 1 - rho;
  return variance_inflation(rho) -
         2 * rho * (1 - power) / (static_cast<double>(n) * rest * rest);
}

/// As many independent values as `n` correlated ones are worth; between 1 and `n`.
[[nodiscard]] constexpr double effective_count(double n, double inflation) noexcept {
  STILLING_EXPECTS(n >= 1 && inflation > 0);
  const double count = n / inflation;
  return count < 1 ? 1 : count > n ? n : count;
}

/// A lag-one autocorrelation as estimated about a mean, or by successive differences about a line,
/// freed of its downward bias (1 + 4 rho)/n (Marriott and Pope 1954) and kept within 0 to 0.95:
/// values that alternate are no reason to claim more.
[[nodiscard]] constexpr double corrected_autocorrelation(double rho, double n) noexcept {
  STILLING_EXPECTS(n >= 1);
  const double corrected = rho + (1 + 4 * rho) / n;
  return corrected < 0 ? 0 : corrected > 0.95 ? 0.95 : corrected;
}

/// Degrees of freedom of what is known exactly, or by judgement of a bound (JCGM 100 G.4.3).
inline constexpr double infinite_freedom = std::numeric_limits<double>::infinity();

/// A standard uncertainty (k = 1) and how well it is known itself.
struct uncertainty {
  double standard = 0;
  double degrees_of_freedom = infinite_freedom;

  /// What it makes of a result that moves by `sensitivity` per unit (JCGM 100 5.1.3).
  friend constexpr uncertainty operator*(double sensitivity, const uncertainty& u) noexcept {
    return {(sensitivity < 0 ? -sensitivity : sensitivity) * u.standard, u.degrees_of_freedom};
  }
  friend constexpr bool operator==(const uncertainty&, const uncertainty&) = default;
};

/// Type A (JCGM 100 4.2.3): of the mean of `n` values with variance `variance` (n - 1) that lean on
/// each other by `rho`.
[[nodiscard]] constexpr uncertainty of_mean(double variance, std::uint64_t n,
                                            double rho = 0) noexcept {
  const double effective =
      effective_count(static_cast<double>(n), variance_inflation(rho, n));
  return {square_root(variance / effective), effective > 2 ? effective - 1 : 1};
}

/// Type B: within plus or minus `half_width`, anywhere alike (JCGM 100 4.3.7).
[[nodiscard]] constexpr uncertainty rectangular(double half_width) noexcept {
  return {half_width / square_root(3)};
}

/// Type B: read off a display that moves in steps (JCGM 100 F.2.2.1).
[[nodiscard]] constexpr uncertainty of_resolution(double step) noexcept {
  return {step / square_root(12)};
}

/// Combined standard uncertainty of uncorrelated parts, by the root of the sum of squares (JCGM 100
/// 5.1.2), with effective degrees of freedom after Welch and Satterthwaite (JCGM 100 G.4.1).
[[nodiscard]] constexpr uncertainty combine(std::initializer_list<uncertainty> parts) noexcept {
  double squares = 0;
  for (const auto& part : parts) squares += part.standard * part.standard;
  if (!(squares > 0)) return {};
  double rest = 0;
  for (const auto& part : parts) {
    const double share = part.standard * part.standard / squares;
    rest += share * share / part.degrees_of_freedom;
  }
  return {square_root(squares), rest > 0 ? 1 / rest : infinite_freedom};
}

namespace detail {
/// Of a polynomial in 1/nu, smooth from the normal quantile at 0 to tan(pi (p - 1/2)) at 1; they
/// interpolate the inverted incomplete beta function, 40 digits, at Chebyshev nodes.
inline constexpr double student_t_coefficients[4][12]{
    {1.64485362179, 1.52377063412, 1.42013226376, 0.984308204936, 0.42174579282, 0.254626096652,
     0.104618202379, -0.227350528896, 0.3653373672, -0.267650272209, 0.107332352179,
     -0.0179722219597},
    {1.95996397678, 2.37227345718, 2.8223942806, 2.55771967035, 1.57310635139, 0.806980057725,
     0.506726345967, -0.276537653285, 0.691442279412, -0.483309818325, 0.207704369602,
     -0.0322585853563},
    {2.3263478452, 3.72908253228, 5.71935535748, 6.72568055064, 5.56024494322, 3.64011422804,
     1.42723216422, 2.78952645206, -1.14025526746, 1.30154627161, -0.421218683368,
     0.162859543339},
    {2.57582919502, 4.91657886709, 8.8332691782, 12.1721946698, 11.7869296168, 9.95011439213,
     0.920894827273, 17.1199934874, -15.096029313, 15.1710942892, -6.6567625134,
     1.96263438028}};
}  // namespace detail

/// One-sided quantile of Student's t at `confidence` 0.95, 0.975, 0.99 or 0.995, for any degrees of
/// freedom from 1 (fewer are taken as 1) to infinity. Relative error at most 5e-8.
[[nodiscard]] constexpr double student_t(double confidence, double degrees_of_freedom) noexcept {
  STILLING_EXPECTS(confidence == 0.95 || confidence == 0.975 || confidence == 0.99 ||
                   confidence == 0.995);
  const std::size_t row =
      confidence > 0.99 ? 3 : confidence > 0.975 ? 2 : confidence > 0.95 ? 1 : 0;
  const auto& c = detail::student_t_coefficients[row];
  const double u = degrees_of_freedom > 1 ? 1 / degrees_of_freedom : 1, uu = u * u;
  double even = c[10], odd = c[11];  // two chains, so that neither waits for the other
  for (std::size_t i = 10; i > 0; i -= 2) {
    even = even * uu + c[i - 2];
    odd = odd * uu + c[i - 1];
  }
  return even + u * odd;
}

/// What a bound is widened by where it is asked for at every row of a long plateau: from 95 % to
/// 99 % one-sided, 2.326 / 1.645 of the normal distribution.
inline constexpr double many_looks = 1.41;

/// What the size of `x` is proven to be above, looked at so often, given the upper bound of that
/// size at 95 %; below 0 where not even its direction is.
[[nodiscard]] constexpr double proven_size(double x, double upper_bound) noexcept {
  const double size = x > 0 ? x : -x;
  return size - many_looks * (upper_bound - size);
}

/// Coverage factor of a two-sided 95 % interval (JCGM 100 G.3.2).
[[nodiscard]] constexpr double coverage_factor(double degrees_of_freedom) noexcept {
  return student_t(0.975, degrees_of_freedom);
}

/// Expanded uncertainty U = k u (JCGM 100 6.2.1).
[[nodiscard]] constexpr double expand(double standard_uncertainty, double factor) noexcept {
  return factor * standard_uncertainty;
}

}  // namespace stilling
