// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT

// Law 4: a constant added to every stamp shifts what is said and changes nothing else.

#include <gtest/gtest.h>

#include "support/invented_log.hpp"
#include "support/transcript.hpp"

namespace stilling {
namespace {

transcript heard_shifted(duration shift) {
  const auto log = invented::joined(invented::invented_log({.shift = shift}));
  transcript said{shift};
  default_session live{session_settings{}};
  live.push(std::string_view{log}, said);
  live.finish(said);
  return said;
}

TEST(shift, to_the_last_bit) {
  const auto here = heard_shifted({});
  ASSERT_GE(here.readings.size(), 4U);
  for (const duration shift :
       {seconds(1'700'000'000), seconds(1'700'000'000) + milliseconds(1), duration{1},
        seconds(-5000), seconds(86'400) + duration{123'456'789}, seconds(4'102'444'800)}) {
    const auto there = heard_shifted(shift);
    EXPECT_EQ(there.lines.size(), here.lines.size());
    for (std::size_t i = 0; i < std::min(here.lines.size(), there.lines.size()); ++i) {
      if (here.lines[i].starts_with("too_few_fields")) continue;  // quotes the row, stamp and all
      ASSERT_EQ(there.lines[i], here.lines[i]) << "shifted by " << shift.count() << " ns";
    }
  }
}

TEST(shift, is_seen_when_it_is_there) {
  const auto log = invented::joined(invented::invented_log({.shift = seconds(100)}));
  EXPECT_NE(heard_from(log).lines, heard_shifted({}).lines) << "the test can fail";
}

}  // namespace
}  // namespace stilling
