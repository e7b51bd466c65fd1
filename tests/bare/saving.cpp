// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT

// What saving and restoring cost: before a power fails there is little time.

#include "cost.hpp"
#include "fixed_session.hpp"
#include "small_chain.hpp"
#include "stilling/saved_session.hpp"

namespace {

auto live = bare::small_chain(stilling::session_settings{});
stilling::saved_session<decltype(live)> kept;

}  // namespace

int main() {
  bare::fixed_session test;
  while (const auto row = test.next()) live.push(bare::as_frame(*row), stilling::any_sink{});
  bare::cost of_saving, of_restoring;
  bool refused = false;
  of_saving.of([] { stilling::save(live, kept); });
  of_restoring.of([&] { refused = stilling::restore(kept.bytes(), live).has_value(); });
  port::report("bytes", kept.size);
  port::report("instructions_to_save", of_saving.most());
  port::report("instructions_to_restore", of_restoring.most());
  return refused ? 1 : 0;
}
