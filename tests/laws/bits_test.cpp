// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT

// Across machines: bits. The detector uses only + - x / and square roots in a fixed order, so every
// verdict and reading has the same bits whatever the processor, the compiler and the optimisation.

#include <gtest/gtest.h>

#include <string>

#include "support/invented_log.hpp"
#include "support/transcript.hpp"

namespace stilling {
namespace {

std::string hexadecimal(std::uint64_t x) {
  char text[24];
  std::snprintf(text, sizeof text, "0x%016llx", static_cast<unsigned long long>(x));
  return text;
}

std::uint64_t hash_of_bytes(std::string_view bytes) {
  std::uint64_t h = 0xcbf29ce484222325U;
  for (const char c : bytes) h = (h ^ static_cast<unsigned char>(c)) * 0x100000001b3U;
  return h;
}

/// Everything from the frames on: every verdict of every row, then the phases and the readings.
transcript everything_about(std::string_view log) {
  transcript said;
  auto judge = make_reader(session_settings{}) | make_judge(session_settings{});
  judge.push(log, said);
  judge.finish(said);
  default_session live{session_settings{}};
  live.push(log, said);
  live.finish(said);
  return said;
}

TEST(bits, the_invented_log_is_the_same_everywhere) {
  const auto log = invented::joined(invented::invented_log());
  EXPECT_EQ(hexadecimal(hash_of_bytes(log)), "0x07fcbc0057a12cb0");
}

// Where the detector was changed on purpose the new value belongs here; where it was not, this
// machine, compiler or flag calculates otherwise, and that is a fault.
TEST(bits, of_every_verdict_and_reading_are_the_same_everywhere) {
  const auto said = everything_about(invented::joined(invented::invented_log()));
  EXPECT_GT(said.lines.size(), 2000U);
  EXPECT_EQ(hexadecimal(said.hash()), "0xdbc4f3622fcd02dc");
}

}  // namespace
}  // namespace stilling
