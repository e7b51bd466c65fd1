// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#pragma once

#include <cstdint>
#include <optional>

#include "stilling/terms/time.hpp"

/// Has a signal left its level? Deviations from where it should be go in, one per row; it has left
/// when enough rows in a row lie beyond the threshold on the same side, for long enough. A lone
/// spike, a gust or one display step is not a departure; a departure is answered within seconds.
namespace stilling {

class departure {
 public:
  /// `deviation` from the expected value, `threshold` > 0 in the same unit.
  constexpr void update(instant t, double deviation, double threshold) noexcept {
    const int side = deviation > 0 ? 1 : -1;
    const double size = deviation > 0 ? deviation : -deviation;
    if (!(size > threshold * onset_share) || side != side_) {
      side_ = size > threshold * onset_share ? side : 0;
      rows_ = 0;
      onset_ = t;
    }
    if (side_ == 0) return;
    // A slow drift on one side is no beginning of a departure.
    if (rows_ == 0 && t - onset_ > longest_onset) onset_ = t;
    if (size > threshold) {
      ++rows_;
      newest_ = t;
    } else {
      rows_ = 0;
    }
  }

  /// Rows in a row beyond the threshold, and how long since the onset.
  [[nodiscard]] constexpr std::uint32_t rows() const noexcept { return rows_; }
  [[nodiscard]] constexpr duration lasted() const noexcept {
    return rows_ > 0 ? newest_ - onset_ : duration{0};
  }
  /// First row on that side of the expected value, beyond a share of the threshold.
  [[nodiscard]] constexpr std::optional<instant> onset() const noexcept {
    if (rows_ == 0) return std::nullopt;
    return onset_;
  }
  constexpr void clear() noexcept { *this = {}; }

 private:
  static constexpr duration longest_onset = seconds(15);
  static constexpr double onset_share = 1.0 / 3;  // a third of the way is already on the way

  int side_ = 0;
  std::uint32_t rows_ = 0;
  instant onset_{}, newest_{};
};

}  // namespace stilling
