// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#pragma once

#include <type_traits>
#include <utility>
#include <variant>

#include "stilling/terms/expects.hpp"

/// A value, or the reason why there is none. Spelled like std::expected (C++23) so that an alias
/// can take its place; only what the project needs of it. Asking for the one that is not there
/// breaks a contract; it never throws.
namespace stilling {

template <class E> class unexpected {
 public:
  constexpr explicit unexpected(E e) noexcept : error_{std::move(e)} {}
  [[nodiscard]] constexpr const E& error() const noexcept { return error_; }
  friend constexpr bool operator==(const unexpected&, const unexpected&) = default;

 private:
  E error_;
};

template <class T, class E> class result {
 public:
  using value_type = T;
  using error_type = E;

  constexpr result(T v) noexcept : held_{std::in_place_index<0>, std::move(v)} {}
  constexpr result(unexpected<E> u) noexcept : held_{std::in_place_index<1>, u.error()} {}

  [[nodiscard]] constexpr bool has_value() const noexcept { return held_.index() == 0; }
  constexpr explicit operator bool() const noexcept { return has_value(); }

  [[nodiscard]] constexpr const T& value() const noexcept {
    STILLING_EXPECTS(has_value());
    return *std::get_if<0>(&held_);
  }
  [[nodiscard]] constexpr const E& error() const noexcept {
    STILLING_EXPECTS(!has_value());
    return *std::get_if<1>(&held_);
  }
  [[nodiscard]] constexpr T value_or(T other) const noexcept {
    return has_value() ? value() : std::move(other);
  }
  constexpr const T& operator*() const noexcept { return value(); }
  constexpr const T* operator->() const noexcept { return &value(); }

  friend constexpr bool operator==(const result&, const result&) = default;

 private:
  std::variant<T, E> held_;
};

}  // namespace stilling
