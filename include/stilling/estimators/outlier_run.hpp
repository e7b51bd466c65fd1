// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#pragma once

#include <cstdint>

#include "stilling/terms/time.hpp"

/// Outliers on end are a step of the level; lone ones are spikes, and how common those are says
/// how many rows on end it takes to tell the two apart.
namespace stilling {

class outlier_run {
 public:
  constexpr void update(instant t, bool is_outlier) noexcept {
    if (!is_outlier || rows_ == 0) {
      if (rows_ == 1) spikes_ += 1;
      since_ = t;
    }
    rows_ = is_outlier ? rows_ + 1 : 0;
    spikes_ *= fading;
  }
  /// Outliers on end up to the newest row, and the time of the first of them.
  [[nodiscard]] constexpr std::uint32_t rows() const noexcept { return rows_; }
  [[nodiscard]] constexpr instant since() const noexcept { return since_; }
  /// Hardly a spike in the newest hundred rows: two in a row are not chance.
  [[nodiscard]] constexpr bool rare() const noexcept { return spikes_ < 1; }

 private:
  static constexpr double fading = 0.99;

  std::uint32_t rows_ = 0;
  instant since_{};
  double spikes_ = 0;
};

}  // namespace stilling
