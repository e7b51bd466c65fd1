// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT

// settle_small LOGS OUTPUTS: judges each NAME.csv by the chain for small machines (tests/bare), for
// score.py to tell what its size costs.

#include <cstdio>
#include <filesystem>
#include <fstream>
#include <iterator>
#include <memory>
#include <string>

#include "bare/small_chain.hpp"
#include "stilling/text.hpp"

namespace {

using namespace stilling;

auto make(const session_settings& s) noexcept {
  return (reader_recipe(s) | bare::small_recipe(s))();
}

std::string events_of(const std::string& log) {
  std::string events;
  presentation as;
  const session_settings s;
  const auto live = std::make_unique<decltype(make(s))>(make(s));
  auto sink = overloaded{[&](const layout& l) { as.follow(l); },
                         [&](const settled_reading& r) { jsonl::write(events, r, as); },
                         [](const auto&) {}};
  live->push(std::string_view{log}, sink);
  live->finish(sink);
  return events;
}

}  // namespace

int main(int count, char** words) {
  namespace fs = std::filesystem;
  if (count != 3) {
    std::fputs("settle_small LOGS OUTPUTS\n", stderr);
    return 2;
  }
  fs::create_directories(words[2]);
  for (const auto& file : fs::directory_iterator(words[1])) {
    if (file.path().extension() != ".csv") continue;
    std::ifstream in{file.path(), std::ios::binary};
    const std::string log{std::istreambuf_iterator<char>{in}, {}};
    std::ofstream{fs::path{words[2]} / (file.path().stem().string() + ".out.jsonl")}
        << events_of(log);
  }
}
