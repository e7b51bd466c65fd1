// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT

// What reading lines costs: bytes to frames on one time line, numbers by the fixed-decimal reader
// alone (fast_float is not on the include path of a board).

#include "cost.hpp"
#include "fixed_session.hpp"
#include "stilling/session.hpp"

namespace {

struct newest_row {
  stilling::frame row;
  std::uint32_t rows = 0, others = 0;
  void operator()(const stilling::frame& f) noexcept { row = f, ++rows; }
  void operator()(const auto&) noexcept { ++others; }
};

auto make(const stilling::session_settings& s) noexcept { return stilling::reader_recipe(s)(); }
auto reader = make(stilling::session_settings{});
newest_row heard;

}  // namespace

int main() {
  bare::fixed_session test;
  bare::cost cost;
  reader.push(bare::fixed_session::header, heard);
  while (const auto row = test.next()) {
    const bare::written_row text{*row};
    cost.of([&] { reader.push(text.view(), heard); });
  }
  reader.finish(heard);
  cost.report();
  port::report("object", sizeof reader);
  return heard.rows == 2310 ? 0 : 1;
}
