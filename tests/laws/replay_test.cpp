// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT

// Law 3: what was recorded and is replayed says what it said live.

#include <gtest/gtest.h>

#include <string>
#include <vector>

#include "support/invented_log.hpp"
#include "support/transcript.hpp"

namespace stilling {
namespace {

TEST(replay, of_the_recorded_bytes_says_the_same) {
  // Live: an instrument sends a line in dribs and drabs, a clock ticks in between, all is recorded.
  transcript live_said;
  std::string record;
  default_session live{session_settings{}};
  for (const auto& line : invented::invented_log({.seed = 5})) {
    const std::string bytes = line.text + "\r\n";
    for (std::size_t from = 0; from < bytes.size(); from += 11) {
      const auto piece = bytes.substr(from, 11);
      live.push(piece, live_said);
      record += piece;
    }
    if (line.at) live.advance(*line.at + milliseconds(500), live_said);
  }
  live.finish(live_said);

  ASSERT_GE(live_said.readings.size(), 4U);
  EXPECT_EQ(heard_from(record).lines, live_said.lines);
}

TEST(replay, of_the_recorded_frames_says_the_same) {
  // An integrator with a driver of its own pushes frames; what is said about them is the same.
  const auto log = invented::joined(invented::invented_log({.seed = 6, .clock_break = false}));
  std::vector<frame> recorded;
  auto reader = make_reader(session_settings{});
  auto keep = overloaded{[&](const frame& f) { recorded.push_back(f); }, [](const auto&) {}};
  reader.push(std::string_view{log}, keep);
  reader.finish(keep);

  transcript replayed;
  default_session live{session_settings{}};
  for (const auto& f : recorded) live.push(f, replayed);
  live.finish(replayed);
  const auto wanted = heard_from(log);
  ASSERT_GE(wanted.readings.size(), 4U);
  EXPECT_EQ(replayed.readings, wanted.readings);
  EXPECT_EQ(replayed.phases, wanted.phases);
}

}  // namespace
}  // namespace stilling
