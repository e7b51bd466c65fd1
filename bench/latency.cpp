// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT

// How much longer than usual can one row take? Ten million rows of eight channels go through the
// chain behind the decoder, and at each the compiler's trace counts the basic blocks it enters: the
// same on every run, however busy the machine. Nothing is rebuilt now and then, so the most is to
// be at most fifty times the median.

#include <algorithm>
#include <cstddef>
#include <cstdint>
#include <cstdio>
#include <cstdlib>
#include <memory>
#include <utility>
#include <vector>

#include "invented_rows.hpp"
#include "stilling/session.hpp"
#include "trace/trace_count.hpp"

namespace {

using namespace stilling;

struct passed_by {
  template <class Item> void operator()(const Item&) const {}
};

void print_spread(const char* criterion, const session_settings& s, double per_second,
                  std::size_t rows) {
  const auto fresh = make_judge(s) | make_readings(s);
  const auto chain = std::make_unique<std::remove_const_t<decltype(fresh)>>(fresh);
  stilling::bench::invented_rows from{per_second};
  std::vector<std::uint32_t> blocks(rows);
  for (auto& b : blocks) {
    frame f = from.next();
    const auto before = stilling::bench::blocks_entered();
    chain->push(std::move(f), passed_by{});
    b = static_cast<std::uint32_t>(stilling::bench::blocks_entered() - before);
  }
  const auto most = std::max_element(blocks.begin(), blocks.end()) - blocks.begin();
  std::sort(blocks.begin(), blocks.end());
  const auto middle = blocks[rows / 2], worst = blocks.back();
  std::printf("%-6s %2g rows a second: median %5u, 99.9 %% %6u, most %6u, %.1f times the median, "
              "in row %td\n",
              criterion, per_second, middle, blocks[rows - 1 - rows / 1000], worst,
              static_cast<double>(worst) / middle, most);
}

}  // namespace

int main(int count, char** words) {
  std::setvbuf(stdout, nullptr, _IOLBF, 0);
  const std::size_t rows = count > 1 ? std::strtoull(words[1], nullptr, 10) : 10'000'000;
  std::printf("basic blocks entered per row of eight channels, %zu rows each\n", rows);
  for (const double per_second : {1, 5, 10}) print_spread("field", {}, per_second, rows);
  print_spread("strict", strict_settings(), 1, rows);
}
