// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#include <cstdio>
#include <string_view>

#include "stilling/session.hpp"

int main() {
  using namespace stilling;
  static default_session live{session_settings{}};  // a value: no heap, no threads, no clock
  auto sink = overloaded{
      [](const settled_reading& r) {
        if (r.to) return;  // it ended; the first word is enough here
        const auto& stack = r.channels[channel::stack_temp];
        std::printf("settled: %.1f K +- %.1f K\n", stack.mean, 2 * stack.standard_uncertainty);
      },
      [](const auto&) {}};  // phases, notes, breaks, lines that could not be read
  char piece[512];
  while (const auto n = std::fread(piece, 1, sizeof piece, stdin))
    live.push(std::string_view{piece, n}, sink);
  live.finish(sink);
}
