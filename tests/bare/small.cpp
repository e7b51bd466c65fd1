// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT

// What judging costs in the small form. The sink keeps the newest reading, as a firmware would.

#include "cost.hpp"
#include "fixed_session.hpp"
#include "small_chain.hpp"

namespace {

struct newest_reading {
  stilling::settled_reading reading;
  std::uint32_t readings = 0, others = 0;
  void operator()(const stilling::settled_reading& r) noexcept { reading = r, ++readings; }
  void operator()(const auto&) noexcept { ++others; }
};

auto live = bare::small_chain(stilling::session_settings{});
newest_reading heard;

}  // namespace

int main() {
  bare::fixed_session test;
  bare::cost cost;
  while (const auto row = test.next()) {
    const auto f = bare::as_frame(*row);
    cost.of([&] { live.push(f, heard); });
  }
  cost.report();
  live.finish(heard);
  port::report("stack_to_finish", port::stack_used());
  port::report("object", sizeof live);
  port::report("readings", heard.readings);
  return heard.readings > 2 && heard.others > 5 ? 0 : 1;
}
