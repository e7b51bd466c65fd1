// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#pragma once

#include <array>
#include <cstddef>
#include <cstdint>
#include <string_view>

/// Which encoding a stream of bytes is in, told from its first four bytes; UTF-16 either way, with
/// or without byte order mark, becomes UTF-8. Everything else (ASCII, UTF-8, Latin-1) passes as it
/// is: a row of numbers is the same in all of them, and names are compared where they are read.
namespace stilling {

class encoding {
 public:
  enum class form : std::uint8_t { open, bytes, utf16_little, utf16_big };

  /// `open` until the first letters have told.
  [[nodiscard]] constexpr form is() const noexcept { return form_; }
  /// The stream began with a byte order mark.
  [[nodiscard]] constexpr bool marked() const noexcept { return marked_; }

  /// Hands on text in pieces; at most four bytes are held back, at the very start.
  template <class Take> constexpr void push(std::string_view bytes, Take&& take) noexcept {
    while (form_ == form::open && !bytes.empty()) {
      opening_[opened_++] = bytes.front();
      bytes.remove_prefix(1);
      decide(take);
    }
    if (bytes.empty()) return;
    if (form_ == form::bytes) take(bytes);
    else widen(bytes, take);
  }

  template <class Take> constexpr void finish(Take&& take) noexcept {
    if (form_ == form::open && opened_ > 0) take(std::string_view{opening_.data(), opened_});
    // Half a letter is damage; it must not pass for nothing.
    if (odd_ || high_ != 0) take(std::string_view{replacement});
    *this = encoding{};
  }

 private:
  static constexpr std::string_view replacement = "\xEF\xBF\xBD";

  template <class Take> constexpr void decide(Take& take) noexcept {
    const std::string_view seen{opening_.data(), opened_};
    std::size_t mark = 0;
    if (seen == "\xFF\xFE") form_ = form::utf16_little, mark = 2;
    else if (seen == "\xFE\xFF") form_ = form::utf16_big, mark = 2;
    else if (seen == "\xEF\xBB\xBF") form_ = form::bytes, mark = 3;
    else if (seen == "\xFF" || seen == "\xFE" || seen == "\xEF" || seen == "\xEF\xBB") return;
    else if (seen.size() == 1) return;
    else if (seen[0] != '\0' && seen[1] != '\0') form_ = form::bytes;
    else if (seen.size() < 4) return;
    else if (seen[0] != '\0' && seen[2] != '\0' && seen[3] == '\0') form_ = form::utf16_little;
    else if (seen[0] == '\0' && seen[1] != '\0' && seen[2] == '\0' && seen[3] != '\0')
      form_ = form::utf16_big;
    else form_ = form::bytes;
    marked_ = mark > 0;
    const std::string_view text{seen.data() + mark, seen.size() - mark};
    if (text.empty()) return;
    if (form_ == form::bytes) take(text);
    else widen(text, take);
  }

  template <class Take> constexpr void widen(std::string_view bytes, Take& take) noexcept {
    std::array<char, 256> block{};
    std::size_t used = 0;
    for (char c : bytes) {
      const std::uint32_t byte = static_cast<std::uint8_t>(c);
      if (!odd_) {
        first_ = byte, odd_ = true;
        continue;
      }
      odd_ = false;
      const auto code = form_ == form::utf16_little ? first_ | (byte << 8U) : (first_ << 8U) | byte;
      used = put(code, block, used);
      if (used + 8 > block.size()) {
        take(std::string_view{block.data(), used});
        used = 0;
      }
    }
    if (used > 0) take(std::string_view{block.data(), used});
  }

  constexpr std::size_t put(std::uint32_t code, std::array<char, 256>& block,
                            std::size_t used) noexcept {
    const auto out = [&](std::uint32_t byte) { block[used++] = static_cast<char>(byte); };
    const bool low = code >= 0xDC00 && code < 0xE000;
    if (high_ != 0 && !low) {
      for (char c : replacement) block[used++] = c;
      high_ = 0;
    }
    if (code >= 0xD800 && code < 0xDC00) {
      high_ = code;
    } else if (low && high_ == 0) {
      for (char c : replacement) block[used++] = c;
    } else if (low) {
      const auto letter = 0x10000 + ((high_ - 0xD800) << 10U) + (code - 0xDC00);
      out(0xF0 | (letter >> 18U)), out(0x80 | ((letter >> 12U) & 0x3F));
      out(0x80 | ((letter >> 6U) & 0x3F)), out(0x80 | (letter & 0x3F));
      high_ = 0;
    } else if (code < 0x80) {
      out(code);
    } else if (code < 0x800) {
      out(0xC0 | (code >> 6U)), out(0x80 | (code & 0x3F));
    } else {
      out(0xE0 | (code >> 12U)), out(0x80 | ((code >> 6U) & 0x3F)), out(0x80 | (code & 0x3F));
    }
    return used;
  }

  std::array<char, 4> opening_{};
  std::size_t opened_ = 0;
  std::uint32_t high_ = 0;  // first half of a letter beyond 16 bits
  std::uint32_t first_ = 0;
  form form_ = form::open;
  bool odd_ = false;
  bool marked_ = false;
};

}  // namespace stilling
