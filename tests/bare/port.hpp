// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#pragma once

// What the programs of this folder ask of the machine they run on: the boards by semihosting, their
// SysTick and a painted stack (board.cpp); everything else by its standard library (host.cpp).

#include <cstdint>
#include <string_view>

namespace port {

void say(std::string_view text) noexcept;

/// Instructions since the start, where the emulator counts them (`-icount`); 0 elsewhere.
[[nodiscard]] std::uint64_t instructions() noexcept;

/// The deepest the stack has been since paint_stack(), in bytes; 0 where nobody can tell.
void paint_stack() noexcept;
[[nodiscard]] std::uint32_t stack_used() noexcept;

/// Calls `tick` from an interrupt, so many times a second; where there are none, never.
void call_from_interrupt(void (*tick)() noexcept, std::uint32_t times_a_second) noexcept;
/// Sleeps until the next one.
void wait_for_interrupt() noexcept;

inline void say_number(std::uint64_t n) noexcept {
  char digits[20];
  std::size_t at = sizeof digits;
  do {
    digits[--at] = static_cast<char>('0' + n % 10);
    n /= 10;
  } while (n != 0);
  say({digits + at, sizeof digits - at});
}

inline void say_hexadecimal(std::uint64_t n) noexcept {
  char digits[16];
  for (std::size_t i = 0; i < sizeof digits; ++i)
    digits[i] = "0123456789abcdef"[n >> (60 - 4 * i) & 15U];
  say({digits, sizeof digits});
}

/// One figure on a line of its own, for boards.py to read.
inline void report(std::string_view name, std::uint64_t n) noexcept {
  say(name), say(" "), say_number(n), say("\n");
}

}  // namespace port
