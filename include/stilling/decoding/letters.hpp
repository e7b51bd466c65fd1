// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#pragma once

#include <array>
#include <cstddef>
#include <string_view>

/// Letters beyond ASCII that word processors and spreadsheets put where a plain one is meant: the
/// blank that does not break, the true minus, the digit below the line. Code points are Unicode's.
namespace stilling {

/// How many bytes the UTF-8 letter at the front takes: 2 to 4, 0 where none stands there or it is
/// one that steers a terminal (U+0080 to U+009F) or stands for damage (U+FFFD).
[[nodiscard]] constexpr std::size_t wide_letter(std::string_view s) noexcept {
  const auto byte = [&](std::size_t i) { return static_cast<unsigned char>(s[i]); };
  if (s.empty() || byte(0) < 0xC2 || byte(0) > 0xF4) return 0;
  const std::size_t n = byte(0) < 0xE0 ? 2 : byte(0) < 0xF0 ? 3 : 4;
  if (s.size() < n || s.starts_with("\xEF\xBF\xBD")) return 0;
  for (std::size_t i = 1; i < n; ++i)
    if (byte(i) < 0x80 || byte(i) > 0xBF) return 0;
  if (n == 2 && byte(0) == 0xC2 && byte(1) < 0xA0) return 0;
  const bool overlong = (byte(0) == 0xE0 && byte(1) < 0xA0) || (byte(0) == 0xF0 && byte(1) < 0x90);
  const bool no_letter = (byte(0) == 0xED && byte(1) > 0x9F) || (byte(0) == 0xF4 && byte(1) > 0x8F);
  return overlong || no_letter ? 0 : n;
}

/// What the wide letter at the front stands for; null where it stands for itself alone.
[[nodiscard]] constexpr const char* plain_spelling(std::string_view s) noexcept {
  struct spelling {
    std::string_view letter;
    const char* plain;
  };
  constexpr spelling table[]{
      {"\xC2\xA0", " "},        // no-break space
      {"\xE2\x80\x87", " "},    // figure space
      {"\xE2\x80\x89", " "},    // thin space
      {"\xE2\x80\xAF", " "},    // narrow no-break space
      {"\xE2\x80\x8B", ""},     // zero width space
      {"\xEF\xBB\xBF", ""},     // byte order mark
      {"\xE2\x88\x92", "-"},    // minus
      {"\xE2\x80\x90", "-"},    // hyphen
      {"\xE2\x80\x93", "-"},    // en dash
      {"\xE2\x80\x94", "-"},    // em dash
      {"\xE2\x80\x99", "'"},    // right quotation mark
      {"\xE2\x80\xB2", "'"},    // prime
      {"\xE2\x80\xB3", "\""},   // double prime
      {"\xE2\x89\xA4", "<="},   // less than or equal
      {"\xE2\x89\xA5", ">="},   // greater than or equal
      {"\xE2\x88\x9E", "inf"},  // infinity
      {"\xE2\x80\xA6", "..."},  // ellipsis
      {"\xE2\x84\x83", "C"},    // degree Celsius
      {"\xE2\x84\x89", "F"},    // degree Fahrenheit
  };
  for (const auto& x : table)
    if (s.starts_with(x.letter)) return x.plain;
  constexpr std::array below_the_line{"0", "1", "2", "3", "4", "5", "6", "7", "8", "9"};
  if (s.size() < 3 || !s.starts_with("\xE2\x82")) return nullptr;
  const auto digit = static_cast<std::size_t>(static_cast<unsigned char>(s[2])) - 0x80;
  return digit < below_the_line.size() ? below_the_line[digit] : nullptr;
}

/// A short text with wide letters replaced by what they stand for; all others stay.
class plain_text {
 public:
  constexpr explicit plain_text(std::string_view s) noexcept {
    while (!s.empty()) {
      const auto n = wide_letter(s);
      const char* const plain = n == 0 ? nullptr : plain_spelling(s);
      for (std::string_view rest = plain != nullptr ? plain : s.substr(0, n == 0 ? 1 : n);
           !rest.empty(); rest.remove_prefix(1)) {
        if (size_ < letters_.size()) letters_[size_++] = rest.front();
        else whole_ = false;
      }
      s.remove_prefix(n == 0 ? 1 : n);
    }
  }
  [[nodiscard]] constexpr std::string_view view() const noexcept {
    return {letters_.data(), size_};
  }
  /// False where the text was longer than can be held.
  [[nodiscard]] constexpr bool whole() const noexcept { return whole_; }

 private:
  std::array<char, 96> letters_{};
  std::size_t size_ = 0;
  bool whole_ = true;
};

/// Whether any byte is none of ASCII's.
[[nodiscard]] constexpr bool has_wide_letter(std::string_view s) noexcept {
  for (char c : s)
    if (static_cast<unsigned char>(c) >= 0x80) return true;
  return false;
}

}  // namespace stilling
