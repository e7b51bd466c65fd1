// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT

// Law 2: saying that time passed changes nothing about what is said, only when.

#include <gtest/gtest.h>

#include <random>
#include <string>

#include "support/invented_log.hpp"
#include "support/transcript.hpp"

namespace stilling {
namespace {

/// Line by line; after each row that has a stamp, time passes up to the next one in `steps` steps.
transcript heard_with_advance(const std::vector<invented::log_line>& log, int steps) {
  transcript said;
  default_session live{session_settings{}};
  for (std::size_t i = 0; i < log.size(); ++i) {
    live.push(log[i].text + "\n", said);
    if (!log[i].at) continue;
    std::size_t later = i + 1;
    while (later < log.size() && !log[later].at) ++later;
    if (later == log.size() || *log[later].at < *log[i].at) continue;  // the clock was set back
    for (int k = 0; k <= steps; ++k)
      live.advance(*log[i].at + (*log[later].at - *log[i].at) * k / (steps + 1), said);
  }
  live.finish(said);
  return said;
}

TEST(advance, between_the_rows_changes_nothing) {
  const auto log = invented::invented_log();
  const auto wanted = heard_from(invented::joined(log)).lines;
  for (const int steps : {0, 1, 3, 100}) EXPECT_EQ(heard_with_advance(log, steps).lines, wanted);
}

TEST(advance, a_silence_is_said_while_it_lasts) {
  const auto log = invented::invented_log();
  transcript said;
  default_session live{session_settings{}};
  std::size_t i = 0;
  for (; !log[i].at || *log[i].at < instant{seconds(1699)}; ++i)
    live.push(log[i].text + "\n", said);
  live.push(log[i].text + "\n", said);
  ASSERT_EQ(said.phases.back().to, phase::steady);
  live.advance(instant{seconds(1759)}, said);
  EXPECT_EQ(said.phases.back().to, phase::steady) << "60 s of silence are not too long";
  live.advance(instant{seconds(1759) + milliseconds(1)}, said);
  EXPECT_EQ(said.phases.back().to, phase::no_data);
  EXPECT_EQ(said.readings.back().ended, cause::gap);
}

TEST(advance, backwards_is_no_news) {
  const auto log = invented::invented_log();
  const auto wanted = heard_from(invented::joined(log)).lines;
  transcript said;
  default_session live{session_settings{}};
  for (const auto& line : log) {
    live.push(line.text + "\n", said);
    live.advance(instant{}, said);
  }
  live.finish(said);
  EXPECT_EQ(said.lines, wanted);
}

}  // namespace
}  // namespace stilling
