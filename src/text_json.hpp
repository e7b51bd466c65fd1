// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#pragma once

#include <cmath>
#include <cstdint>
#include <optional>
#include <string>
#include <string_view>
#include <utility>

#include "text_number.hpp"

/// JSON as the writers spell it. Private to src/.
namespace stilling::writing {

inline void append_text(std::string& to, std::string_view text) {
  std::string clean;
  append_printable(clean, text);
  to += '"';
  for (const char c : clean) {
    if (c == '"' || c == '\\') to += '\\';
    to += c;
  }
  to += '"';
}

inline void append_time(std::string& to, const std::optional<instant>& t) {
  if (t) append_seconds(to, *t);
  else to += "null";
}

/// One JSON object, members in the order they are given.
class object {
 public:
  explicit object(std::string& to) : to_{to} { to_ += '{'; }
  object(const object&) = delete;
  object& operator=(const object&) = delete;
  ~object() { to_ += '}'; }

  /// The key; the value is the caller's next word.
  std::string& key(std::string_view name) {
    if (!std::exchange(first_, false)) to_ += ',';
    append_text(to_, name);
    to_ += ':';
    return to_;
  }
  void text(std::string_view name, std::string_view value) { append_text(key(name), value); }
  void time(std::string_view name, const std::optional<instant>& t) { append_time(key(name), t); }
  void count(std::string_view name, std::uint64_t n) { put(key(name), "{}", n); }
  void number(std::string_view name, const std::optional<double>& x, int decimals) {
    key(name);
    if (x && std::isfinite(*x)) append_rounded(to_, *x, decimals);
    else to_ += "null";
  }

 private:
  std::string& to_;
  bool first_ = true;
};

/// A JSON list; `write` appends one item.
template <class Items, class Write>
void append_list(std::string& to, const Items& items, Write write) {
  to += '[';
  bool first = true;
  for (const auto& x : items) {
    if (!std::exchange(first, false)) to += ',';
    write(x);
  }
  to += ']';
}

}  // namespace stilling::writing
