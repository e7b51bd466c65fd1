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
    // Nearly all values bring no news, and what they bring instead is noise: hence no branch on
    // each part of these conditions.
    if ((written > 0) & (written < written_)) {
      written_ = written;
      tell();
    }
    if (seen_ > 0) {
      const double change = x - newest_;
      const double rounding = 1e-9 * std::abs(x);  // of binary arithmetic, not of the display
      const double size = std::abs(change), turn = std::abs(change - change_);
      if (is_news(size, rounding)) take(size);
      if ((size > rounding) & (size < least_change_)) least_change_ = size;
      if ((seen_ > 1) & is_news(turn, rounding))
        if (is_news(turn, std::max(rounding, converted()))) take(turn);
      change_ = change;
    }
    newest_ = x;
    if (seen_ < 2) ++seen_;
  }

  /// In the values' own unit; 0 while nothing tells.
  [[nodiscard]] constexpr double step() const noexcept { return told_; }

 private:
  static constexpr int enough = 6;  // changes: one alone may be the flue leaving its level
  static constexpr double none = 1e300;

  /// What the rounding of a conversion may leave: some of the last places, of which a number with
  /// digits more in front has fewer. 0 where the places are unknown. Our own choice.
  [[nodiscard]] constexpr double converted() const noexcept {
    if (written_ == none || least_change_ == none) return 0;
    return std::min(1000 * written_, least_change_ / 100);
  }

  [[nodiscard]] constexpr bool is_news(double size, double rounding) const noexcept {
    return (size > rounding) & (size < news_below_);
  }
  constexpr void take(double size) noexcept {
    if (changes_ < enough) ++changes_;
    if (size < step_) step_ = size;
    tell();
  }
  constexpr void tell() noexcept {
    if (changes_ == enough) told_ = news_below_ = step_;
    else if (written_ < none) told_ = written_;
  }

  double newest_ = 0, change_ = 0;
  double step_ = none, written_ = none, least_change_ = none;  // the last: from value to value
  double news_below_ = none, told_ = 0;
  int seen_ = 0;
  int changes_ = 0;
};

}  // namespace stilling
