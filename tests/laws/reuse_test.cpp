// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT

// Law 9: after finish() a session equals a fresh one; and a copy is a session of its own.

#include <gtest/gtest.h>

#include <string>
#include <type_traits>

#include "support/invented_log.hpp"
#include "support/transcript.hpp"

namespace stilling {
namespace {

static_assert(std::is_trivially_copyable_v<default_session>);

/// What a used session says about a log.
std::vector<std::string> heard_by(default_session& used, std::string_view log) {
  transcript said;
  used.push(log, said);
  used.finish(said);
  return said.lines;
}

TEST(reuse, after_finish_the_past_is_forgotten) {
  const auto first = invented::joined(invented::invented_log());
  const auto second = invented::joined(invented::invented_log({.seed = 2, .step = seconds(2)}));
  const std::string odd = "time;T\n1;2\n\"broken";
  default_session used{session_settings{}};
  for (const auto& log : {first, second, odd, std::string{}, second, first})
    EXPECT_EQ(heard_by(used, log), heard_from(log).lines);
}

TEST(reuse, wherever_the_log_breaks_off) {
  const auto log = invented::joined(invented::invented_log());
  const auto next = invented::joined(invented::invented_log({.seed = 3}));
  const auto wanted = heard_from(next).lines;
  default_session used{session_settings{}};
  for (std::size_t size = 0; size < log.size(); size += 6007) {
    heard_by(used, std::string_view{log}.substr(0, size));
    ASSERT_EQ(heard_by(used, next), wanted) << "after " << size << " bytes of another log";
  }
}

TEST(reuse, settings_stay) {
  session_settings strange;
  strange.require({channel::stack_temp});
  strange.phase.dwell = seconds(25);
  const auto log = invented::joined(invented::invented_log());
  default_session used{strange};
  const auto once = heard_by(used, log);
  EXPECT_EQ(once, heard_from(log, strange).lines);
  EXPECT_EQ(heard_by(used, log), once);
  EXPECT_NE(once, heard_from(log).lines) << "the settings make a difference";
}

TEST(reuse, a_copy_goes_its_own_way) {
  const auto log = invented::joined(invented::invented_log());
  const std::string_view head = std::string_view{log}.substr(0, log.size() / 2),
                         tail = std::string_view{log}.substr(log.size() / 2);
  transcript said;
  default_session live{session_settings{}};
  live.push(head, said);
  default_session copied = live;
  transcript other = said;
  copied.push("# something else\n1e9,1,1,1,1,1\n", other);
  copied.finish(other);
  live.push(tail, said);
  live.finish(said);
  EXPECT_EQ(said.lines, heard_from(log).lines);
}

TEST(reuse, a_copy_continues_what_the_first_began) {
  const auto log = invented::joined(invented::invented_log());
  const auto wanted = heard_from(log).lines;
  for (std::size_t cut = 1; cut < log.size(); cut += 9973) {
    transcript said;
    default_session live{session_settings{}};
    live.push(std::string_view{log}.substr(0, cut), said);
    default_session copied = live;
    live = default_session{session_settings{}};
    copied.push(std::string_view{log}.substr(cut), said);
    copied.finish(said);
    ASSERT_EQ(said.lines, wanted) << "copied after " << cut << " bytes";
  }
}

}  // namespace
}  // namespace stilling
