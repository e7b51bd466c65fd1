// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#pragma once

#include <termios.h>

#include <cstddef>
#include <cstdint>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

// The terminal as a page that is written anew: lines out, keys in. It is given back as it was
// found, whichever way the program ends, signals that end it included; only kill -9 cannot be met.

namespace stilling::command {

/// One line of the page, and whether it is to be set off.
struct page_line {
  enum class weight : std::uint8_t { plain, strong, alarm };
  std::string text;
  weight is = weight::plain;
  friend bool operator==(const page_line&, const page_line&) = default;
};

class screen {
 public:
  struct size {
    std::size_t columns = 80, rows = 24;
    friend bool operator==(const size&, const size&) = default;
  };

  /// Takes the terminal over; `set_off`: strong lines may be brighter than others.
  explicit screen(bool set_off);
  screen(const screen&) = delete;
  screen& operator=(const screen&) = delete;
  ~screen();

  /// As it is now.
  [[nodiscard]] size extent() const noexcept;
  /// Writes what differs from the page before, in one piece. Never waits for the terminal: what it
  /// does not take now is written before the next page, and a page that is late is left out.
  void show(const std::vector<page_line>& page, std::optional<size> cursor = std::nullopt);
  void ring();
  /// Keys since the last call, as bytes; empty: none.
  [[nodiscard]] std::string keys();
  /// Whether keys can be read at all.
  [[nodiscard]] bool has_keys() const noexcept { return keyboard_ >= 0; }
  /// Gives the terminal back.
  void leave() noexcept;

 private:
  /// False where some of it is still to be written.
  bool flush() noexcept;

  int out_ = -1;
  int keyboard_ = -1;
  bool set_off_;
  bool away_ = false;  // given back
  std::vector<page_line> before_;
  size size_before_{0, 0};
  std::optional<size> cursor_before_;
  std::string waiting_;  // not yet taken by the terminal
};

}  // namespace stilling::command
