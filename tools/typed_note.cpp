// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#include "typed_note.hpp"

#include <array>
#include <utility>

#include "cells.hpp"
#include "stilling/decoding/said.hpp"

namespace stilling::command {
namespace {

constexpr std::array<std::pair<std::string_view, std::string_view>, 8> short_words{{
    {"air", "adjusted air"},
    {"draft", "adjusted draft"},
    {"oil", "oil spot"},
    {"in", "probe in"},
    {"zero", "draft zeroed"},
    {"on", "burner on"},
    {"off", "burner off"},
    {"fresh", "fresh air"},
}};

bool holds_number(std::string_view text) noexcept {
  return text.find_first_of("0123456789") != std::string_view::npos;
}

}  // namespace

std::string note_meant_by(std::string_view typed) {
  const std::string sound = plain_letters(typed);
  auto text = trimmed(sound);
  while (!text.empty() && text.front() == '#') text = trimmed(text.substr(1));
  if (what_was_said(text).what != saying::remark) return std::string{text};
  for (const auto& [word, meant] : short_words) {
    if (!saying_words::begins_with(text, word)) continue;
    const auto rest = text.substr(word.size());
    // "in the cellar", "oil pressure 100 psi": only alone are these words what they stand for.
    const bool alone = trimmed(rest).empty();
    const bool moved = word == "air" || (word == "draft" && !holds_number(rest));
    if (alone || moved) return std::string{meant} + std::string{rest};
  }
  return std::string{text};
}

std::size_t length_of_sequence(std::string_view keys) noexcept {
  if (keys.size() < 2 || keys[0] != '\x1b') return 0;
  if (keys[1] == 'O') return keys.size() < 3 ? keys.size() : 3;
  if (keys[1] != '[') return 2;  // Alt and a letter
  std::size_t n = 2;
  while (n < keys.size() && (keys[n] < '@' || keys[n] > '~')) ++n;
  return n < keys.size() ? n + 1 : n;
}

std::size_t typed_line::take(std::string_view keys) {
  const auto rub_out = [&] {
    while (!text_.empty() && (static_cast<unsigned char>(text_.back()) & 0xC0U) == 0x80)
      text_.pop_back();
    if (!text_.empty()) text_.pop_back();
  };
  std::size_t n = 0;
  while (n < keys.size() && is_ == state::open) {
    if (const auto skipped = length_of_sequence(keys.substr(n)); skipped > 0) {
      n += skipped;
      continue;
    }
    const char key = keys[n++];
    switch (key) {
      case '\r':
      case '\n': is_ = state::entered; break;
      case '\x1b': is_ = state::given_up; break;
      case '\b':
      case '\x7f': rub_out(); break;
      case '\x15': text_.clear(); break;  // Ctrl-U
      case '\x17':                        // Ctrl-W
        while (!text_.empty() && text_.back() == ' ') text_.pop_back();
        while (!text_.empty() && text_.back() != ' ') rub_out();
        break;
      default:
        if (static_cast<unsigned char>(key) < 0x20 || text_.size() == most) break;
        text_ += key;
    }
  }
  return n;
}

}  // namespace stilling::command
