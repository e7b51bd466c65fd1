// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#pragma once

#include <array>
#include <cstddef>
#include <cstdint>
#include <span>

#include "stilling/terms/expects.hpp"
#include "stilling/terms/time.hpp"

/// A whole past in little memory: means of equally many rows each. When all places are taken,
/// neighbours are joined in pairs and every mean stands for twice as many rows from then on, so
/// that between half and all of the places are in use however long it goes on.
namespace stilling {

/// The mean of some neighbouring rows.
struct condensed_rows {
  double t = 0;       // seconds since the first row of all
  double y = 0;       // about the first value of all
  double spread = 0;  // variance of the rows' times, s^2
};

template <std::size_t Places = 256> class condensed_past {
  static_assert(Places >= 16 && Places % 2 == 0);

 public:
  /// One value at an instant not before the one before.
  constexpr void update(instant t, double y) noexcept {
    if (known_ == 0 && open_rows_ == 0) origin_ = t, first_value_ = y;
    const double x = in_seconds(t - origin_), v = y - first_value_;
    newest_ = t;
    ++open_rows_;
    const double share = 1 / static_cast<double>(open_rows_), off = x - open_.t;
    open_.t += off * share;
    open_.y += (v - open_.y) * share;
    open_.spread += (off * (x - open_.t) - open_.spread) * share;
    if (open_rows_ < rows_each_) return;
    at_[known_++] = open_;
    open_ = {};
    open_rows_ = 0;
    if (known_ == Places) halve();
  }

  [[nodiscard]] constexpr std::span<const condensed_rows> rows() const noexcept {
    return {at_.data(), known_};
  }
  /// What the times and values of `rows()` are about.
  [[nodiscard]] constexpr instant origin() const noexcept { return origin_; }
  [[nodiscard]] constexpr double first_value() const noexcept { return first_value_; }
  /// Stamp of the newest row, in `rows()` or still to come.
  [[nodiscard]] constexpr instant newest() const noexcept { return newest_; }
  constexpr void clear() noexcept { *this = {}; }

 private:
  constexpr void halve() noexcept {
    for (std::size_t i = 0; i < Places / 2; ++i) {
      const condensed_rows &a = at_[2 * i], &b = at_[2 * i + 1];
      const double half = (b.t - a.t) / 2;
      at_[i] = {(a.t + b.t) / 2, (a.y + b.y) / 2, (a.spread + b.spread) / 2 + half * half};
    }
    known_ = Places / 2;
    rows_each_ *= 2;
  }

  std::array<condensed_rows, Places> at_{};
  std::size_t known_ = 0;
  std::uint64_t rows_each_ = 1;
  condensed_rows open_{};
  std::uint64_t open_rows_ = 0;
  instant origin_{}, newest_{};
  double first_value_ = 0;
};

}  // namespace stilling
