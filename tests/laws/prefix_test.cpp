// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT

// Law 7: no second thoughts. What is said about a row depends on it and earlier rows only, and
// stands; finish() aside.

#include <gtest/gtest.h>

#include <algorithm>
#include <string>

#include "support/invented_log.hpp"
#include "support/transcript.hpp"

namespace stilling {
namespace {

/// What is said about the first `count` lines of a log, before the last word.
std::vector<std::string> heard_of_first(const std::vector<invented::log_line>& log,
                                        std::size_t count) {
  transcript said;
  default_session live{session_settings{}};
  for (std::size_t i = 0; i < count; ++i) live.push(log[i].text + "\n", said);
  return said.lines;
}

TEST(prefix, a_shorter_log_says_the_beginning_of_what_the_longer_says) {
  const auto log = invented::invented_log();
  const auto whole = heard_of_first(log, log.size());
  for (std::size_t count = 0; count < log.size(); count += 101) {
    const auto part = heard_of_first(log, count);
    ASSERT_LE(part.size(), whole.size());
    ASSERT_TRUE(std::equal(part.begin(), part.end(), whole.begin())) << count << " lines";
  }
}

TEST(prefix, another_future_does_not_change_the_past) {
  const auto log = invented::invented_log(), other = invented::invented_log({.seed = 99});
  for (std::size_t cut = 100; cut < log.size(); cut += 211) {
    auto mixed = log;
    mixed.resize(cut);
    mixed.insert(mixed.end(), other.begin() + static_cast<std::ptrdiff_t>(cut), other.end());
    const auto part = heard_of_first(log, cut);
    const auto said = heard_of_first(mixed, mixed.size());
    ASSERT_LE(part.size(), said.size());
    ASSERT_TRUE(std::equal(part.begin(), part.end(), said.begin())) << "cut after " << cut;
  }
}

/// Remembers the newest row pushed, and holds what is said against it.
struct witness {
  std::optional<instant> newest;
  std::vector<settled_reading> readings;

  void operator()(const settled_reading& r) {
    EXPECT_LE(r.declared, *newest);
    EXPECT_LE(r.last_seen, *newest);
    EXPECT_LE(r.from, r.last_seen);
    if (r.to) {
      EXPECT_LE(*r.to, *newest);
    }
    if (r.released) {
      EXPECT_LE(*r.released, *newest);
    } else {
      EXPECT_EQ(r.declared, *newest) << "an open plateau is said in the row that proves it";
    }
    readings.push_back(r);
  }
  void operator()(const phase_change& p) { EXPECT_LE(p.at, *newest); }
  void operator()(const auto&) {}
};

TEST(prefix, nothing_is_said_about_rows_still_to_come) {
  witness seen;
  default_session live{session_settings{}};
  for (const auto& line : invented::invented_log({.clock_break = false})) {
    if (line.at && (!seen.newest || *line.at > *seen.newest)) seen.newest = line.at;
    live.push(line.text + "\n", seen);
  }
  EXPECT_GE(seen.readings.size(), 4U);
}

}  // namespace
}  // namespace stilling
