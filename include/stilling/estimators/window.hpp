// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#pragma once

#include <array>
#include <bit>
#include <cstddef>
#include <optional>

#include "stilling/terms/expects.hpp"

/// The newest values of a stream: a ring of fixed capacity, stored inside the object, and the order
/// statistics of a small one. Trivially copyable where T is, so that a stage that holds one can be
/// copied, compared and kept in static memory (why not a library's ring: bench/window.cpp).
namespace stilling {

template <class T, std::size_t Capacity> class window {
  static_assert(Capacity > 0);

 public:
  /// Takes the value in; a full window gives up its oldest and returns it.
  constexpr std::optional<T> push(const T& value) noexcept {
    if (!full()) {
      slots_[place(size_++)] = value;
      return std::nullopt;
    }
    std::optional<T> evicted{slots_[first_]};
    slots_[first_] = value;
    first_ = place(1);
    return evicted;
  }
  constexpr void pop_front() noexcept {
    STILLING_EXPECTS(!empty());
    first_ = place(1);
    --size_;
  }
  constexpr void pop_back() noexcept {
    STILLING_EXPECTS(!empty());
    --size_;
  }
  constexpr void clear() noexcept { first_ = size_ = 0; }

  [[nodiscard]] static constexpr std::size_t capacity() noexcept { return Capacity; }
  [[nodiscard]] constexpr std::size_t size() const noexcept { return size_; }
  [[nodiscard]] constexpr bool empty() const noexcept { return size_ == 0; }
  [[nodiscard]] constexpr bool full() const noexcept { return size_ == Capacity; }

  /// The oldest is number 0.
  [[nodiscard]] constexpr const T& operator[](std::size_t i) const noexcept {
    STILLING_EXPECTS(i < size_);
    return slots_[place(i)];
  }
  [[nodiscard]] constexpr T& operator[](std::size_t i) noexcept {
    STILLING_EXPECTS(i < size_);
    return slots_[place(i)];
  }
  [[nodiscard]] constexpr const T& front() const noexcept { return (*this)[0]; }
  [[nodiscard]] constexpr const T& back() const noexcept { return (*this)[size_ - 1]; }
  [[nodiscard]] constexpr T& back() noexcept { return (*this)[size_ - 1]; }

  /// The same values in the same order, wherever in the ring they lie.
  friend constexpr bool operator==(const window& a, const window& b) noexcept {
    if (a.size_ != b.size_) return false;
    for (std::size_t i = 0; i < a.size_; ++i)
      if (!(a[i] == b[i])) return false;
    return true;
  }

 private:
  [[nodiscard]] constexpr std::size_t place(std::size_t i) const noexcept {
    const std::size_t at = first_ + i;
    if constexpr (std::has_single_bit(Capacity)) return at % Capacity;
    return at < Capacity ? at : at - Capacity;
  }

  std::array<T, Capacity> slots_{};
  std::size_t first_ = 0;
  std::size_t size_ = 0;
};

/// Where the values lie and how far apart, whatever a few of them do.
struct order_statistics {
  double median = 0;
  double absolute_deviation = 0;  // median distance from the median (MAD)
  friend constexpr bool operator==(const order_statistics&, const order_statistics&) = default;
};

/// Of a window of few values; nothing where there are none. An even number has two middle values
/// and takes their mean. Written without branches on the values: noise makes them all go wrong.
template <std::size_t Capacity>
[[nodiscard]] constexpr std::optional<order_statistics> order_statistics_of(
    const window<double, Capacity>& values) noexcept {
  static_assert(Capacity <= 64, "sorted anew at each call: for small windows");
  constexpr auto lesser = [](double a, double b) { return b < a ? b : a; };
  constexpr auto greater = [](double a, double b) { return a < b ? b : a; };
  const std::size_t n = values.size();
  if (n == 0) return std::nullopt;
  std::array<double, Capacity> sorted{};
  for (std::size_t i = 0; i < n; ++i) {
    double carried = values[i];
    for (std::size_t j = 0; j < i; ++j) {
      const double kept = lesser(sorted[j], carried);
      carried = greater(sorted[j], carried);
      sorted[j] = kept;
    }
    sorted[i] = carried;
  }
  order_statistics out;
  out.median = (sorted[(n - 1) / 2] + sorted[n / 2]) / 2;
  // The k + 1 values nearest to the median lie side by side, so the farthest of them is an end of
  // the tightest run of that many.
  const auto distance = [&](std::size_t k) {
    double tightest = greater(out.median - sorted[0], sorted[k] - out.median);
    for (std::size_t i = 1; i + k < n; ++i)
      tightest = lesser(tightest, greater(out.median - sorted[i], sorted[i + k] - out.median));
    return tightest;
  };
  out.absolute_deviation = distance(n / 2);
  if (n % 2 == 0) out.absolute_deviation = (distance(n / 2 - 1) + out.absolute_deviation) / 2;
  return out;
}

}  // namespace stilling
