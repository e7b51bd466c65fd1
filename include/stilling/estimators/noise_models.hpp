// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#pragma once

#include <array>
#include <cstddef>
#include <cstdint>
#include <span>

#include "stilling/estimators/line_moments.hpp"
#include "stilling/estimators/uncertainty.hpp"
#include "stilling/terms/expects.hpp"

/// How well is a mean known when the noise may be slow? A plateau of a few minutes cannot tell
/// whether noise remembers for ten seconds or for thirty, and the mean is worth half as much in the
/// one case as in the other. So no memory is chosen: each of thirteen kinds of noise says what the
/// mean is worth, and counts by how likely it makes the values (averaging over models; J. A.
/// Hoeting and others, Statistical Science 14(4), 1999).
///
/// The values, means over pieces of time, lie on a straight line plus noise, of whose variance a
/// share is remembered from piece to piece and the rest is not. The line and the variance cost
/// what they cost: the likelihood is the restricted one (H. D. Patterson and R. Thompson,
/// Biometrika 58(3), 1971), found by a Kalman filter in one pass (A. C. Harvey and G. D. A.
/// Phillips, Biometrika 66(1), 1979).
namespace stilling {

struct noise_model {
  double memory = 0;  // autocorrelation of the slow part over one piece
  double share = 0;   // of the variance that is slow
  double prior = 1;
};

class noise_models {
 public:
  static constexpr double piece = 5;        // seconds
  static constexpr std::size_t most = 60;  // pieces, so that no likelihood overflows

  /// Memories of 4, 10, 25 and 60 s: exp(-5 s / memory). The longest counts a quarter beforehand:
  /// it makes a mean over minutes worth next to nothing, and only long plateaus could deny it.
  static constexpr std::array<noise_model, 13> kinds{{
      {0, 0, 1},
      {0.28650479686019009, 1, 1},
      {0.28650479686019009, 0.5, 1},
      {0.28650479686019009, 0.2, 1},
      {0.60653065971263342, 1, 1},
      {0.60653065971263342, 0.5, 1},
      {0.60653065971263342, 0.2, 1},
      {0.81873075307798186, 1, 1},
      {0.81873075307798186, 0.5, 1},
      {0.81873075307798186, 0.2, 1},
      {0.92004441462932328, 1, 0.25},
      {0.92004441462932328, 0.5, 0.25},
      {0.92004441462932328, 0.2, 0.25},
  }};

  /// Means over pieces of five seconds, or single values where they come more slowly; in rising
  /// order of time. `least`: variance of a piece that cannot be less, as rounding makes it.
  constexpr noise_models(std::span<const timed_value> pieces, double least) noexcept
      : count_{pieces.size()} {
    STILLING_EXPECTS(count_ <= most);
    if (count_ < least_count) return;
    const double length = pieces.back().t - pieces.front().t;
    apart_ = whole_pieces(length / static_cast<double>(count_ - 1));
    steps_between steps{};
    for (std::size_t i = 0; i + 1 < count_; ++i) {
      const std::uint64_t step = whole_pieces(pieces[i + 1].t - pieces[i].t);
      steps[i] = static_cast<std::uint16_t>(step < 65'535 ? step : 65'535);  // all is forgotten
    }
    const fitted plain = fit(kinds[0], pieces, steps);
    const double floor = least * static_cast<double>(count_);
    const double squares = plain.squares > floor ? plain.squares : floor;
    for (std::size_t i = 0; i < kinds.size(); ++i) {
      const fitted it = i == 0 ? plain : fit(kinds[i], pieces, steps);
      const double own = it.squares > floor ? it.squares : floor;
      variances_[i] = own / freedom();
      // (squares / own)^(freedom / 2) in whole powers, the rest of the likelihood, the prior
      double ratio = own > 0 ? square_root(squares / own) : 1;
      if (ratio > 1e5) ratio = 1e5;
      weights_[i] = power(ratio, count_ - 2) * kinds[i].prior *
                    square_root(plain.information / it.information) / it.spread;
      total_ += weights_[i];
    }
  }

  /// False with fewer than six pieces: too few to say anything about their noise.
  [[nodiscard]] constexpr bool known() const noexcept { return total_ > 0; }

  /// Of the variances that follow.
  [[nodiscard]] constexpr double freedom() const noexcept {
    return static_cast<double>(count_ - 2);
  }

  /// Of a single piece about the line.
  [[nodiscard]] constexpr double variance() const noexcept {
    double sum = 0;
    for (std::size_t i = 0; i < kinds.size(); ++i) sum += weights_[i] * variances_[i];
    return sum / total_;
  }

  /// Of the mean over a time that is so many times longer than that of the pieces.
  [[nodiscard]] constexpr double variance_of_mean(double times_longer = 1) const noexcept {
    const auto n =
        static_cast<std::uint64_t>(static_cast<double>(count_) * times_longer + 0.5);
    double sum = 0;
    for (std::size_t i = 0; i < kinds.size(); ++i) {
      const noise_model& it = kinds[i];
      const double inflation =
          1 - it.share + it.share * variance_inflation(power(it.memory, apart_), n);
      sum += weights_[i] * variances_[i] * inflation;
    }
    return sum / total_ / static_cast<double>(n);
  }

 private:
  static constexpr std::size_t least_count = 6;
  using steps_between = std::array<std::uint16_t, most>;  // pieces from one value to the next

  struct fitted {
    double squares = 0;      // weighted, about the line
    double information = 0;  // determinant of the normal equations
    double spread = 1;       // square root of the determinant of the covariance
  };

  /// What one kind of noise makes of the values, in units of its own variance.
  [[nodiscard]] static constexpr fitted fit(const noise_model& kind,
                                            std::span<const timed_value> pieces,
                                            const steps_between& steps) noexcept {
    const double t0 = pieces[pieces.size() / 2].t;
    const double y0 = pieces[pieces.size() / 2].y;
    const double own = 1 - kind.share + 1e-6;  // so that no gain is exactly one
    double y = 0, one = 0, t = 0, p = kind.share, spread = 1;
    double yy = 0, y1 = 0, yt = 0, s11 = 0, s1t = 0, stt = 0;
    for (std::size_t i = 0; i < pieces.size(); ++i) {
      const double x = (pieces[i].t - t0) / piece;
      const double f = p + own, gain = p / f;
      const double dy = pieces[i].y - y0 - y, d1 = 1 - one, dt = x - t;
      spread *= f;
      const double w = 1 / f;
      yy += w * dy * dy, y1 += w * dy * d1, yt += w * dy * dt;
      s11 += w * d1 * d1, s1t += w * d1 * dt, stt += w * dt * dt;
      if (i + 1 == pieces.size()) break;
      const double memory = steps[i] == 1 ? kind.memory : power(kind.memory, steps[i]);
      y = memory * (y + gain * dy);
      one = memory * (one + gain * d1);
      t = memory * (t + gain * dt);
      p = memory * memory * (p - gain * p) + kind.share * (1 - memory * memory);
    }
    const double information = s11 * stt - s1t * s1t;
    const double explained = (y1 * y1 * stt - 2 * y1 * yt * s1t + yt * yt * s11) / information;
    return {yy - explained, information, square_root(spread)};
  }

  [[nodiscard]] static constexpr std::uint64_t whole_pieces(double length) noexcept {
    return length > piece ? static_cast<std::uint64_t>(length / piece + 0.5) : 1;
  }

  [[nodiscard]] static constexpr double power(double x, std::uint64_t exponent) noexcept {
    double result = 1;
    for (; exponent > 0; exponent /= 2, x *= x)
      if (exponent % 2 == 1) result *= x;
    return result;
  }

  std::size_t count_;
  std::uint64_t apart_ = 1;  // pieces from one value to the next, on average
  std::array<double, kinds.size()> weights_{}, variances_{};
  double total_ = 0;
};

}  // namespace stilling
