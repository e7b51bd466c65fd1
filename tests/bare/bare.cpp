// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#include <cstdint>

#include "stilling/session.hpp"

// As on a microcontroller: the session is in static memory, rows come from a driver that talks to
// the sensors itself, one each second. Without exceptions, RTTI and heap (see CMakeLists.txt).
namespace {

stilling::default_session live{stilling::session_settings{}};

struct counts {
  int settled = 0;
  int others = 0;
  void operator()(const stilling::settled_reading&) noexcept { ++settled; }
  void operator()(const auto&) noexcept { ++others; }
};

stilling::frame row_at(std::int64_t second, std::uint32_t& state) {
  const auto noise = [&state] {  // a linear congruential generator; the constants are Knuth's
    state = state * 1664525U + 1013904223U;
    return static_cast<double>(state >> 16) / 65536.0 - 0.5;
  };
  stilling::frame row;
  row.at = stilling::instant{stilling::seconds(second)};
  row.indication.set(stilling::channel::stack_temp, 520 + noise());
  row.indication.set(stilling::channel::o2, 0.05 + 0.001 * noise());
  row.indication.set(stilling::channel::co, 20e-6 + 2e-6 * noise());
  return row;
}

}  // namespace

int main() {
  counts seen;
  std::uint32_t state = 1;
  for (std::int64_t second = 0; second < 1200; ++second) live.push(row_at(second, state), seen);
  live.finish(seen);
  return seen.settled > 0 && seen.others > 0 ? 0 : 1;
}
