// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#pragma once

#include <cstddef>
#include <string>
#include <string_view>

#include "text_number.hpp"

/// Words for HTML and SVG. Private to src/.
namespace stilling::writing {

/// Words from outside: what steers a page or a screen is taken out of them, the rest is kept.
inline std::string marked_up(std::string_view text) {
  std::string plain, to;
  append_printable(plain, text);
  for (const char c : plain) {
    switch (c) {
      case '&': to += "&amp;"; break;
      case '<': to += "&lt;"; break;
      case '>': to += "&gt;"; break;
      case '"': to += "&quot;"; break;
      case '\'': to += "&#39;"; break;
      default: to += c;
    }
  }
  return to;
}

/// At most so many letters; what was left out is shown by an ellipsis.
inline std::string shortened(std::string_view text, std::size_t most) {
  std::string printable;
  append_printable(printable, text);
  std::size_t letters = 0, end = 0, cut = 0;
  for (; end < printable.size(); ++end) {
    if ((static_cast<unsigned char>(printable[end]) & 0xC0U) == 0x80) continue;
    if (letters == most - 1) cut = end;
    if (++letters > most) return printable.substr(0, cut) + "…";
  }
  return printable;
}

}  // namespace stilling::writing
