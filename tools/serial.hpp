// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#pragma once

#include <chrono>
#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "options.hpp"
#include "sources.hpp"

// An instrument on a serial line. Its bytes are handed on as they come. Bytes that were damaged on
// the line (parity, framing) arrive as NUL, so that the line they are in shows it; left out, 471
// would be read where 4711 was sent.

namespace stilling::command {

/// Data bits, parity and stop bits, as they are usually written: 8N1, 7E1, 8O2.
struct framing {
  unsigned bits = 8;
  char parity = 'N';  // N none, E even, O odd
  unsigned stops = 1;
};
[[nodiscard]] std::optional<framing> read_framing(std::string_view text) noexcept;
/// Rates that serial ports know by name.
[[nodiscard]] bool is_standard_rate(int baud) noexcept;
/// Serial devices that are there now, under the names that stay the same where there are such.
[[nodiscard]] std::vector<std::string> serial_devices();

class serial_line {
 public:
  explicit serial_line(const live_source& from);
  serial_line(const serial_line&) = delete;
  serial_line& operator=(const serial_line&) = delete;
  ~serial_line();

  /// As source::read. A line that breaks off ends here, or is waited for and found again by its
  /// name where that was asked for; standard error is told either way.
  [[nodiscard]] portion read(std::span<char> into, std::optional<std::chrono::milliseconds> wait);
  [[nodiscard]] std::string_view fault() const noexcept { return fault_; }

 private:
  using clock = std::chrono::steady_clock;

  bool open();
  void close() noexcept;
  void lose(std::string_view why);
  [[nodiscard]] bool is_given_up() const;
  [[nodiscard]] portion seek(std::optional<std::chrono::milliseconds> wait);

  live_source from_;
  int descriptor_ = -1;
  bool heard_ = false;        // it was connected before
  clock::time_point lost_{};  // while there is no descriptor
  std::string fault_;
  std::string why_not_;  // the newest attempt to open it failed
};

}  // namespace stilling::command
