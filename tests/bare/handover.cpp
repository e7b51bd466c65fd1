// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT

// A session begun on one machine and gone on with on another of the same layout in memory:
//     handover save FILE      the first half of the test; what was said, as a hash
//     handover go_on FILE     the rest
//     handover whole FILE     the rest as it is without a hand-over

#include <cstdio>
#include <string_view>

#include "every_bit.hpp"
#include "fixed_session.hpp"
#include "port.hpp"
#include "stilling/saved_session.hpp"

namespace {

stilling::default_session live{stilling::session_settings{}};
stilling::saved_session<stilling::default_session> kept;

bool written_to(const char* name) {
  stilling::save(live, kept);
  std::FILE* const file = std::fopen(name, "wb");
  if (file == nullptr) return false;
  const bool whole = std::fwrite(kept.bytes().data(), 1, kept.size, file) == kept.size;
  return std::fclose(file) == 0 && whole;
}

bool read_from(const char* name) {
  static std::byte bytes[decltype(kept)::size + 1];
  std::FILE* const file = std::fopen(name, "rb");
  if (file == nullptr) return false;
  const std::size_t n = std::fread(bytes, 1, sizeof bytes, file);
  std::fclose(file);
  const auto why = stilling::restore(std::span<const std::byte>{bytes, n}, live);
  if (why) port::say(name_of(*why)), port::say("\n");
  return !why;
}

}  // namespace

int main(int count, char** words) {
  if (count != 3) return 2;
  const std::string_view what{words[1]};
  constexpr std::int64_t half = 1003;  // the air was just moved
  bare::fixed_session test;
  bare::every_bit before, after;
  if (what != "go_on") live.push(bare::fixed_session::header, before);
  else if (!read_from(words[2])) return 1;
  while (const auto row = test.next()) {
    const bare::written_row text{*row};
    if (row->second < half) {
      if (what != "go_on") live.push(text.view(), before);
    } else {
      if (row->second == half && what == "save") return written_to(words[2]) ? 0 : 1;
      live.push(text.view(), after);
    }
  }
  live.finish(after);
  port::say("hash_of_rest "), port::say_hexadecimal(after.hash()), port::say("\n");
  return after.items() > 5 ? 0 : 1;
}
