// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#pragma once

#include <cstddef>
#include <string_view>

/// A line cut into fields. A field may stand in double quotes, which then hide separators; a
/// doubled quote inside is left as it is. Where the separator is a blank, a run of blanks (tabs
/// included) is one separator and no field is empty.
namespace stilling {

[[nodiscard]] constexpr bool is_blank(char c) noexcept { return c == ' ' || c == '\t'; }

/// What may part fields; ' ' stands for runs of blanks.
inline constexpr char separators[]{',', ';', '\t', '|', ' '};

/// Without blanks at both ends. A tab inside a field of a comma-separated line is kept: it is more
/// likely a damaged letter than an ornament.
[[nodiscard]] constexpr std::string_view trimmed(std::string_view s) noexcept {
  while (!s.empty() && s.front() == ' ') s.remove_prefix(1);
  while (!s.empty() && s.back() == ' ') s.remove_suffix(1);
  return s;
}

/// The text from its letter n on; n lies within it. (substr would bring an exception along.)
[[nodiscard]] constexpr std::string_view behind(std::string_view s, std::size_t n) noexcept {
  s.remove_prefix(n);
  return s;
}

struct field {
  std::string_view text;  // trimmed, without its quotes
  bool quoted = false;
};

class field_cursor {
 public:
  constexpr field_cursor(std::string_view line, char separator) noexcept
      : rest_{line}, separator_{separator} {
    if (separator_ == ' ') skip_blanks();
    more_ = separator_ != ' ' || !rest_.empty();
  }

  /// The next field; false at the end of the line. An empty line has one empty field.
  constexpr bool next(field& f) noexcept {
    if (!more_) return false;
    std::size_t at = 0;
    while (at < rest_.size() && rest_[at] == ' ') ++at;
    f.quoted = at < rest_.size() && rest_[at] == '"';
    const auto close = f.quoted ? closing_quote(at + 1) : std::string_view::npos;
    f.quoted = close != std::string_view::npos;
    const auto from = f.quoted ? close + 1 : std::size_t{0};
    auto stop = from;
    while (stop < rest_.size() && !separates(rest_[stop])) ++stop;
    f.text = trimmed(rest_.substr(0, stop));
    if (f.quoted && f.text.size() == close - at + 1)
      f.text = trimmed(behind(f.text, 1).substr(0, f.text.size() - 2));
    more_ = stop < rest_.size();
    rest_.remove_prefix(more_ ? stop + 1 : stop);
    if (separator_ == ' ') {
      skip_blanks();
      more_ = !rest_.empty();
    }
    return true;
  }

  /// Letters not yet looked at, and whether a further field begins there.
  [[nodiscard]] constexpr std::size_t left() const noexcept { return rest_.size(); }
  [[nodiscard]] constexpr bool more() const noexcept { return more_; }

 private:
  [[nodiscard]] constexpr bool separates(char c) const noexcept {
    return c == separator_ || (separator_ == ' ' && c == '\t');
  }
  constexpr void skip_blanks() noexcept {
    while (!rest_.empty() && is_blank(rest_.front())) rest_.remove_prefix(1);
  }
  [[nodiscard]] constexpr std::size_t closing_quote(std::size_t at) const noexcept {
    for (; at < rest_.size(); ++at) {
      if (rest_[at] != '"') continue;
      if (at + 1 < rest_.size() && rest_[at + 1] == '"') ++at;
      else return at;
    }
    return std::string_view::npos;
  }

  std::string_view rest_;
  char separator_;
  bool more_ = true;
};

}  // namespace stilling
