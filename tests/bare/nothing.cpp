// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT

// What the other programs hold besides stilling: start-up, the invented test, the C library. Their
// size less this one's is what stilling takes.

#include "cost.hpp"
#include "fixed_session.hpp"

namespace {
volatile double newest;
}

int main() {
  bare::fixed_session test;
  bare::cost cost;
  std::size_t letters = 0;
  while (const auto row = test.next()) {
    const auto f = bare::as_frame(*row);
    const bare::written_row text{*row};
    cost.of([&] { newest = f.corrected(stilling::channel::stack_temp); });
    letters += text.view().size();
  }
  cost.report();
  port::report("letters", letters);
  return 0;
}
