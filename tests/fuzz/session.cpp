// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#include <cstddef>
#include <cstdint>
#include <cstdlib>
#include <string_view>
#include <vector>

#include "stilling/session.hpp"

// Any bytes, whole and in pieces: the same settled readings and as many of every other item.
namespace {

struct account {
  std::vector<stilling::settled_reading> readings;
  std::size_t phases = 0, rejections = 0, breaks = 0, notes = 0, others = 0;

  void operator()(const stilling::settled_reading& r) { readings.push_back(r); }
  void operator()(const stilling::phase_change&) { ++phases; }
  void operator()(const stilling::rejection&) { ++rejections; }
  void operator()(const stilling::discontinuity&) { ++breaks; }
  void operator()(const stilling::note&) { ++notes; }
  void operator()(const auto&) { ++others; }
  bool operator==(const account&) const = default;
};

account account_of(std::string_view bytes, std::size_t piece) {
  account seen;
  stilling::default_session live{stilling::session_settings{}};
  for (; bytes.size() > piece; bytes.remove_prefix(piece)) live.push(bytes.substr(0, piece), seen);
  live.push(bytes, seen);
  live.finish(seen);
  return seen;
}

}  // namespace

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* bytes, std::size_t size) {
  if (size == 0) return 0;
  const std::string_view text{reinterpret_cast<const char*>(bytes + 1), size - 1};
  if (account_of(text, size) != account_of(text, 1U + bytes[0] % 64U)) std::abort();
  return 0;
}
