// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#pragma once

#include <algorithm>
#include <cstddef>
#include <cstdint>

#include "stilling/estimators/window.hpp"
#include "stilling/terms/time.hpp"

/// The newest eleven minutes of a series in little memory: a mean per nine seconds of stream time.
/// A row counts for the seconds since the one before, so that a change of rate changes nothing.
namespace stilling {

/// The mean of some neighbouring rows.
struct coarse_rows {
  double t = 0;       // seconds since the first row of all
  double y = 0;       // about the first value of all
  double weight = 0;  // seconds the rows stand for
};

class coarse_past {
 public:
  static constexpr std::size_t places = 75;
  static constexpr duration each = seconds(9);
  static constexpr double longest_stand = 60;  // seconds, of one row

  /// One value at an instant not before the one before.
  constexpr void update(instant t, double y) noexcept {
    if (!begun_) begun_ = true, origin_ = newest_ = t, first_value_ = y;
    const std::int64_t number = (t - origin_) / each;
    if (number != number_ && open_.weight > 0) {
      rows_.push(open_);
      ++closed_;
      open_ = {};
    }
    number_ = number;
    const double stood = std::min(in_seconds(t - newest_), longest_stand);
    newest_ = t;
    if (!(stood > 0)) return;
    open_.weight += stood;
    const double share = stood / open_.weight;
    open_.t += (in_seconds(t - origin_) - open_.t) * share;
    open_.y += (y - first_value_ - open_.y) * share;
  }

  /// Means that are complete, oldest first.
  [[nodiscard]] constexpr const window<coarse_rows, places>& rows() const noexcept { return rows_; }
  /// How many there have been: a question asked of the same number has the same answer.
  [[nodiscard]] constexpr std::uint64_t closed() const noexcept { return closed_; }
  [[nodiscard]] constexpr instant origin() const noexcept { return origin_; }
  constexpr void clear() noexcept { *this = {}; }

 private:
  window<coarse_rows, places> rows_;
  coarse_rows open_{};
  std::uint64_t closed_ = 0;
  std::int64_t number_ = 0;
  instant origin_{}, newest_{};
  double first_value_ = 0;
  bool begun_ = false;
};

}  // namespace stilling
