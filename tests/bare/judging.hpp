// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#pragma once

#include <cstdint>

#include "cost.hpp"
#include "fixed_session.hpp"
#include "stilling/items/reading.hpp"

/// What judging costs behind a driver that makes frames itself.
namespace bare {

/// Keeps the newest reading, as a firmware would.
struct newest_reading {
  stilling::settled_reading reading;
  std::uint32_t readings = 0, others = 0;
  void operator()(const stilling::settled_reading& r) noexcept { reading = r, ++readings; }
  void operator()(const auto&) noexcept { ++others; }
};

/// The fixed session through a chain in static memory; the program's status.
template <class Chain> int cost_of_judging(Chain& live, newest_reading& heard) {
  fixed_session test;
  cost each;
  while (const auto row = test.next()) {
    const auto f = as_frame(*row);
    each.of([&] { live.push(f, heard); });
  }
  each.report();
  live.finish(heard);
  port::report("stack_to_finish", port::stack_used());
  port::report("object", sizeof live);
  port::report("readings", heard.readings);
  return heard.readings > 2 && heard.others > 5 ? 0 : 1;
}

}  // namespace bare
