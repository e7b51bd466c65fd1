// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT

// Every bit of every verdict and of everything said: behind a driver, behind the reader of lines,
// and in the small, which is saved and restored on the way. Three numbers that must be the same on
// every machine.

#include "every_bit.hpp"
#include "fixed_session.hpp"
#include "port.hpp"
#include "small_chain.hpp"
#include "stilling/saved_session.hpp"

namespace {

using namespace stilling;

bare::every_bit of_rows, of_lines, of_small;

const auto tapped = [](bare::every_bit& by) {
  return recipe{[&by] { return bare::counted_in{by}; }};
};
auto behind_driver(const session_settings& s) noexcept {
  return (recipe{[&s] { return timeline{s.timeline}; }} | judge_recipe(s) | tapped(of_rows) |
          readings_recipe(s))();
}
auto behind_reader(const session_settings& s) noexcept {
  return (reader_recipe(s) | judge_recipe(s) | tapped(of_lines) | readings_recipe(s))();
}
auto rows = behind_driver(session_settings{});
auto lines = behind_reader(session_settings{});
auto small = bare::small_chain(session_settings{});
auto relief = bare::small_chain(session_settings{});
saved_session<decltype(small)> kept;

void tell(std::string_view name, const bare::every_bit& e) noexcept {
  port::say(name), port::say(" "), port::say_hexadecimal(e.hash()), port::say("\n");
  port::report("items", e.items());
}

}  // namespace

int main() {
  bare::fixed_session test;
  lines.push(bare::fixed_session::header, of_lines);
  while (const auto row = test.next()) {
    const frame f = bare::as_frame(*row);
    rows.push(f, of_rows);
    auto& on_duty = row->second / 50 % 2 == 0 ? small : relief;
    on_duty.push(f, of_small);
    if (row->second % 50 == 49) {
      save(on_duty, kept);
      const std::span<const std::byte> bytes{kept.bytes()};
      if (restore(bytes, &on_duty == &small ? relief : small)) return 2;
    }
    lines.push(bare::written_row{*row}.view(), of_lines);
  }
  rows.finish(of_rows);
  (bare::fixed_session::length / 50 % 2 == 0 ? small : relief).finish(of_small);
  lines.finish(of_lines);
  tell("hash_of_rows", of_rows);
  tell("hash_of_lines", of_lines);
  tell("hash_of_small", of_small);
  return of_rows.items() > 2310 && of_lines.items() > of_rows.items() ? 0 : 1;
}
