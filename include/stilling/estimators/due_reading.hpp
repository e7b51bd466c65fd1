// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#pragma once

#include <algorithm>
#include <cstdint>
#include <optional>

#include "stilling/terms/time.hpp"

/// One reading that is due at a time: the row nearest to it, or the mean of the rows before it.
///
/// A row a little early is taken where the next one, at the distance of the last, would be farther
/// away, so that a reading is known at its own row. One that comes later than the slack is no
/// reading: that one was missed. A mean over [due - length, due) is known with the first row after
/// it, and is missed where nothing was heard for more than a third of it.
namespace stilling {

class due_reading {
 public:
  enum class outcome : std::uint8_t { waiting, taken, missed };

  /// What was asked for before is forgotten; the distance of the rows is not.
  constexpr void ask(instant due, duration slack, duration length) noexcept {
    due_ = due;
    slack_ = slack;
    length_ = length;
    count_ = 0;
    mean_ = 0;
    heard_ = due - length;
    torn_ = false;
    asked_ = true;
  }
  constexpr void leave() noexcept { asked_ = false; }
  [[nodiscard]] constexpr bool asked() const noexcept { return asked_; }
  [[nodiscard]] constexpr bool is_missed(instant t) const noexcept {
    return asked_ && t > due_ + slack_;
  }

  /// A value; in rising order of time.
  constexpr outcome update(instant t, double x) noexcept {
    const duration now = newest_ ? t - *newest_ : duration{};
    const duration usual = spacing_.value_or(now);
    if (newest_) spacing_ = now;
    newest_ = t;
    if (!asked_) return outcome::waiting;
    if (is_missed(t)) return outcome::missed;
    if (length_ > duration{}) return add(t, x);
    if (t < due_ - std::min(usual / 2, slack_)) return outcome::waiting;
    at_ = t;
    mean_ = x;
    return outcome::taken;
  }

  /// Of the reading that was taken.
  [[nodiscard]] constexpr instant at() const noexcept { return at_; }
  [[nodiscard]] constexpr double value() const noexcept { return mean_; }

 private:
  constexpr outcome add(instant t, double x) noexcept {
    if (t < due_ - length_) return outcome::waiting;
    torn_ |= std::min(t, due_) - heard_ > length_ / 3;
    heard_ = t;
    if (t < due_) {
      ++count_;
      mean_ += (x - mean_) / static_cast<double>(count_);
      return outcome::waiting;
    }
    at_ = due_;
    return torn_ || count_ == 0 ? outcome::missed : outcome::taken;
  }

  instant due_{}, at_{}, heard_{};
  duration slack_{}, length_{};
  std::optional<instant> newest_;
  std::optional<duration> spacing_;  // between the two newest rows
  double mean_ = 0;
  std::uint32_t count_ = 0;
  bool torn_ = false, asked_ = false;
};

}  // namespace stilling
