// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#pragma once

#include <array>
#include <cstddef>
#include <cstdint>
#include <optional>
#include <string_view>

#include "stilling/decoding/civil.hpp"
#include "stilling/decoding/number.hpp"

/// The pieces that stamps are written with, taken one after the other from the front of a text.
namespace stilling {

class scanner {
 public:
  constexpr explicit scanner(std::string_view text) noexcept : text_{text}, whole_{text.size()} {}

  [[nodiscard]] constexpr std::string_view rest() const noexcept { return text_; }
  [[nodiscard]] constexpr std::size_t taken() const noexcept { return whole_ - text_.size(); }
  [[nodiscard]] constexpr char front() const noexcept {
    return text_.empty() ? '\0' : text_.front();
  }

  constexpr bool take(char c) noexcept {
    if (front() != c || text_.empty()) return false;
    text_.remove_prefix(1);
    return true;
  }
  constexpr bool take_any(std::string_view letters) noexcept {
    return !text_.empty() && letters.find(front()) != std::string_view::npos && take(front());
  }
  constexpr void skip_blanks() noexcept {
    while (front() == ' ') text_.remove_prefix(1);
  }
  /// How many digits stand here, at most ten of them counted.
  [[nodiscard]] constexpr std::size_t digits_ahead() const noexcept {
    std::size_t n = 0;
    while (n < text_.size() && n < 10 && detail::is_digit(text_[n])) ++n;
    return n;
  }
  /// A number of `least` to `most` digits.
  constexpr bool take_number(std::size_t least, std::size_t most, std::uint32_t& to) noexcept {
    const auto ahead = digits_ahead();
    const auto n = ahead < most ? ahead : most;
    if (n < least) return false;
    to = 0;
    for (std::size_t i = 0; i < n; ++i) to = to * 10 + static_cast<std::uint32_t>(text_[i] - '0');
    text_.remove_prefix(n);
    return true;
  }
  /// The digits behind a decimal sign, as nanoseconds; further ones are dropped.
  constexpr bool take_fraction(std::uint32_t& nanoseconds) noexcept {
    if (!detail::is_digit(front())) return false;
    std::uint32_t weight = 100'000'000;
    nanoseconds = 0;
    for (; detail::is_digit(front()); text_.remove_prefix(1), weight /= 10)
      nanoseconds += static_cast<std::uint32_t>(front() - '0') * weight;
    return true;
  }
  /// A word of a list by its first three letters or in full, in any case; its place in the list.
  template <std::size_t N> constexpr std::optional<std::size_t> take_word(
      const std::array<std::string_view, N>& words) noexcept {
    std::size_t n = 0;
    while (n < text_.size() && is_letter(text_[n])) ++n;
    for (std::size_t i = 0; i < N; ++i) {
      if (n < 3 || n > words[i].size() || (n != words[i].size() && n > 4)) continue;
      bool same = true;
      for (std::size_t k = 0; k < n; ++k) same &= lower(text_[k]) == words[i][k];
      if (!same) continue;
      text_.remove_prefix(n);
      take('.');
      return i;
    }
    return std::nullopt;
  }
  /// AM or PM, `a.m.` too, with no further letter behind it.
  constexpr civil::half take_half() noexcept {
    auto s = text_;
    const auto letter = [&](char c) {
      if (s.empty() || lower(s.front()) != c) return false;
      s.remove_prefix(1);
      if (!s.empty() && s.front() == '.') s.remove_prefix(1);
      return true;
    };
    const bool am = letter('a');
    if (!am && !letter('p')) return civil::half::whole_day;
    if (!letter('m') || (!s.empty() && is_letter(s.front()))) return civil::half::whole_day;
    text_ = s;
    return am ? civil::half::am : civil::half::pm;
  }
  /// Z, UTC, GMT, +01:00, -0330, +1; false, and nothing taken, where none of them stands here.
  constexpr bool take_offset(civil& c) noexcept {
    for (auto name : {std::string_view{"Z"}, std::string_view{"z"}, std::string_view{"UTC"},
                      std::string_view{"GMT"}})
      if (text_.starts_with(name) &&
          (text_.size() == name.size() || !is_letter(text_[name.size()]))) {
        text_.remove_prefix(name.size());
        c.has_offset = true;
        c.offset = 0;
        return true;
      }
    auto ahead = *this;
    const bool west = ahead.take('-');
    std::uint32_t hours = 0;
    std::uint32_t minutes = 0;
    if ((!west && !ahead.take('+')) || !ahead.take_number(1, 2, hours)) return false;
    if (ahead.take(':') && ahead.digits_ahead() != 2) return false;
    static_cast<void>(ahead.take_number(2, 2, minutes));
    if (hours > 18 || minutes > 59) return false;
    *this = ahead;
    c.has_offset = true;
    c.offset = static_cast<std::int32_t>(hours * 3600 + minutes * 60) * (west ? -1 : 1);
    return true;
  }

  [[nodiscard]] static constexpr char lower(char c) noexcept {
    return c >= 'A' && c <= 'Z' ? static_cast<char>(c + 32) : c;
  }
  [[nodiscard]] static constexpr bool is_letter(char c) noexcept {
    return lower(c) >= 'a' && lower(c) <= 'z';
  }

 private:
  std::string_view text_;
  std::size_t whole_;
};

inline constexpr std::array<std::string_view, 12> month_names{
    "january", "february", "march",     "april",   "may",      "june",
    "july",    "august",   "september", "october", "november", "december"};
inline constexpr std::array<std::string_view, 7> weekday_names{
    "monday", "tuesday", "wednesday", "thursday", "friday", "saturday", "sunday"};

}  // namespace stilling
