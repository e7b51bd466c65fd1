// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#pragma once

#include <algorithm>
#include <cmath>

/// The resolution of a display (VIM 4.15), as the values themselves show it. Displayed values are
/// multiples of the step, so every difference is one too, and so is every difference of
/// differences: the smallest that is not zero is the step, or a small multiple of it until more
/// has been seen. Until enough has moved, the last place written stands in for it.
///
/// Values that were converted and written with many more places (1 degF as 0.555556 K) hold the
/// rounding of that place: beside changes a hundred times larger it is no step.
namespace stilling {

class resolution {
 public:
  /// `written`: one unit of the last written place; 0 where that is unknown.
  constexpr void update(double x, double written = 0) noexcept {
    if (written > 0 && (written_ == 0 || written < written_)) {
      written_ = written;
      tell();
    }
    if (seen_ > 0) {
      const double change = x - newest_;
      const double rounding = 1e-9 * std::abs(x);  // of binary arithmetic, not of the display
      consider(std::abs(change), rounding);
      if (std::abs(change) > rounding && (least_change_ == 0 || std::abs(change) < least_change_))
        least_change_ = std::abs(change);
      if (const double turn = std::abs(change - change_); seen_ > 1 && is_news(turn, rounding))
        consider(turn, std::max(rounding, converted()));
      change_ = change;
    }
    newest_ = x;
    if (seen_ < 2) ++seen_;
  }

  /// In the values' own unit; 0 while nothing tells.
  [[nodiscard]] constexpr double step() const noexcept { return told_; }

 private:
  static constexpr int enough = 6;  // changes: one alone may be the flue leaving its level

  /// What the rounding of a conversion may leave: some of the last places, of which a number with
  /// digits more in front has fewer. 0 where the places are unknown. Our own choice.
  [[nodiscard]] constexpr double converted() const noexcept {
    return std::min(1000 * written_, least_change_ / 100);
  }

  [[nodiscard]] constexpr bool is_news(double size, double rounding) const noexcept {
    return size > rounding && (size < step_ || changes_ < enough);
  }
  constexpr void consider(double size, double rounding) noexcept {
    if (!is_news(size, rounding)) return;
    if (changes_ < enough) ++changes_;
    if (step_ == 0 || size < step_) step_ = size;
    tell();
  }
  constexpr void tell() noexcept { told_ = changes_ >= enough ? step_ : written_; }

  double newest_ = 0, change_ = 0, step_ = 0, written_ = 0, told_ = 0;
  double least_change_ = 0;  // from one value to the next; 0: none yet
  int seen_ = 0;
  int changes_ = 0;
};

}  // namespace stilling
