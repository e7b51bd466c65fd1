// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#pragma once

#include <string>
#include <string_view>

/// A cell of CSV, quoted where its text asks for it (RFC 4180). Private to src/.
namespace stilling::writing {

inline void append_cell(std::string& to, std::string_view text) {
  if (text.find_first_of(",\"\r\n") == std::string_view::npos) {
    to += text;
    return;
  }
  to += '"';
  for (const char c : text) {
    if (c == '"') to += '"';
    to += c;
  }
  to += '"';
}

}  // namespace stilling::writing
