// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#include "text_form.hpp"

namespace stilling::command {

void text_form::count(std::string_view text) {
  for (const char c : text) {
    const auto byte = static_cast<unsigned char>(c);
    if (c == '\n') ++(after_return_ ? both_ : feeds_);
    else if (after_return_) ++returns_;
    after_return_ = c == '\r';
    const bool goes_on = (byte & 0xC0U) == 0x80;
    if (goes_on != (expected_ > 0)) broken_ = true;
    if (byte < 0x80) expected_ = 0;
    else if (goes_on) expected_ -= expected_ > 0 ? 1 : 0;
    else expected_ = byte >= 0xF0 ? 3 : byte >= 0xE0 ? 2 : 1;
    wide_ |= byte >= 0x80;
  }
}

std::string_view text_form::encoded_as() const noexcept {
  switch (is_) {
    case encoding::form::utf16_little: return "UTF-16, low byte first";
    case encoding::form::utf16_big: return "UTF-16, high byte first";
    case encoding::form::open:
    case encoding::form::bytes: break;
  }
  if (marked_) return "UTF-8 with a byte order mark";
  if (broken_) return "text with letters that are not UTF-8 (Latin-1, or damage)";
  return wide_ ? "UTF-8" : "ASCII";
}

std::string text_form::line_ends() const {
  std::string kinds;
  const auto add = [&](std::uint64_t n, std::string_view name) {
    if (n > 0) (kinds += kinds.empty() ? "" : " and ") += name;
  };
  add(feeds_, "LF");
  add(both_, "CR LF");
  add(returns_, "CR");
  return kinds.empty() ? "none" : kinds;
}

}  // namespace stilling::command
