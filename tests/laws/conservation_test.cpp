// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT

// Law 6: every line and every sample is accounted for, with a reason if it was set aside.

#include <gtest/gtest.h>

#include <set>
#include <string>
#include <vector>

#include "support/invented_log.hpp"
#include "support/transcript.hpp"

namespace stilling {
namespace {

struct account {
  std::multiset<std::uint64_t> framed, noted, rejected_whole, broken;
  std::vector<frame> frames;

  void operator()(const frame& f) {
    framed.insert(f.line);
    frames.push_back(f);
  }
  void operator()(const note& n) { noted.insert(n.line); }
  void operator()(const rejection& r) {
    if (r.what != fault::bad_number) rejected_whole.insert(r.line);
  }
  void operator()(const discontinuity& d) { broken.insert(d.line); }
  void operator()(const auto&) {}
};

account account_of(const std::string& log) {
  account seen;
  auto reader = make_reader(session_settings{});
  reader.push(std::string_view{log}, seen);
  reader.finish(seen);
  return seen;
}

TEST(conservation, every_line_becomes_one_thing) {
  const auto log = invented::invented_log();
  const auto seen = account_of(invented::joined(log));
  std::size_t rows = 0, notes = 0;
  for (std::uint64_t line = 1; line <= log.size(); ++line) {
    SCOPED_TRACE(testing::Message() << "line " << line << ": " << log[line - 1].text);
    const auto& text = log[line - 1].text;
    const auto times = seen.framed.count(line) + seen.noted.count(line) +
                       seen.rejected_whole.count(line);
    const bool is_header = line == 1;
    EXPECT_EQ(times, is_header || text.empty() ? 0U : 1U);
    EXPECT_EQ(seen.noted.count(line), text.starts_with('#') ? 1U : 0U);
    notes += seen.noted.count(line);
    rows += seen.framed.count(line) + seen.rejected_whole.count(line);
  }
  EXPECT_EQ(seen.framed.size() + seen.rejected_whole.size(), rows) << "and nothing is made up";
  EXPECT_EQ(seen.noted.size(), notes);
  EXPECT_GT(seen.rejected_whole.size(), 4U);
}

TEST(conservation, every_row_gets_one_verdict) {
  const auto log = invented::joined(invented::invented_log());
  const auto wanted = account_of(log).frames;
  std::vector<frame> judged;
  auto chain = make_reader(session_settings{}) | make_judge(session_settings{});
  auto sink = overloaded{[&](const verdict& v) { judged.push_back(v.row); }, [](const auto&) {}};
  chain.push(std::string_view{log}, sink);
  chain.finish(sink);
  ASSERT_EQ(judged.size(), wanted.size());
  for (std::size_t i = 0; i < judged.size(); ++i) {
    EXPECT_EQ(judged[i].at, wanted[i].at);
    EXPECT_EQ(judged[i].indication, wanted[i].indication) << "marked, never removed or changed";
  }
}

TEST(conservation, every_value_of_a_plateau_is_used_or_set_aside) {
  const auto log = invented::joined(invented::invented_log());
  const auto frames = account_of(log).frames;
  std::size_t closed = 0, aside = 0;
  for (const auto& r : heard_from(log).readings) {
    const instant last = r.to.value_or(r.last_seen);
    closed += r.to ? 1U : 0U;
    for (const channel c : all_channels) {
      if (!r.channels.has(c)) continue;
      std::uint32_t there = 0, rows = 0;
      for (const auto& f : frames) {
        if (f.at < r.from || f.at > last) continue;
        ++rows;
        there += f.indication.has(c) ? 1U : 0U;
      }
      const auto& x = r.channels[c];
      EXPECT_EQ(x.count + x.set_aside, there) << traits_of(c).name;
      EXPECT_DOUBLE_EQ(x.coverage, static_cast<double>(x.count) / rows) << traits_of(c).name;
      aside += x.set_aside;
    }
  }
  EXPECT_GE(closed, 3U);
  EXPECT_GE(aside, 3U) << "the log has spikes in its plateaus";
}

TEST(conservation, whatever_opens_is_closed) {
  const auto said = heard_from(invented::joined(invented::invented_log()));
  ASSERT_EQ(said.readings.size() % 2, 0U);
  for (std::size_t i = 0; i < said.readings.size(); i += 2) {
    EXPECT_FALSE(said.readings[i].to);
    EXPECT_TRUE(said.readings[i + 1].to);
    EXPECT_EQ(said.readings[i].declared, said.readings[i + 1].declared);
    EXPECT_NE(said.readings[i + 1].ended, cause::none);
  }
}

TEST(conservation, phases_join_on_to_each_other) {
  const auto said = heard_from(invented::joined(invented::invented_log({.clock_break = false})));
  phase before = phase::no_data;
  for (const auto& p : said.phases) {
    EXPECT_EQ(p.from, before);
    before = p.to;
  }
  EXPECT_GE(said.phases.size(), 8U);
}

}  // namespace
}  // namespace stilling
