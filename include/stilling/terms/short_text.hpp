// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#pragma once

#include <array>
#include <cstddef>
#include <cstdint>
#include <string_view>

/// A few words inside the object, so that settings and notes can be copied and kept without a heap.
namespace stilling {

template <std::size_t Capacity> class short_text {
 public:
  constexpr short_text() = default;
  /// What does not fit is left out; `fits` says beforehand.
  constexpr short_text(std::string_view s) noexcept {
    for (char c : s.substr(0, Capacity)) letters_[size_++] = c;
  }
  constexpr short_text(const char* s) noexcept : short_text{std::string_view{s}} {}

  [[nodiscard]] static constexpr bool fits(std::string_view s) noexcept {
    return s.size() <= Capacity;
  }
  [[nodiscard]] constexpr std::string_view view() const noexcept {
    return {letters_.data(), size_};
  }
  [[nodiscard]] constexpr bool empty() const noexcept { return size_ == 0; }
  friend constexpr bool operator==(const short_text&, const short_text&) = default;

 private:
  std::array<char, Capacity> letters_{};
  std::uint16_t size_ = 0;
  static_assert(Capacity <= 65535);
};

}  // namespace stilling
