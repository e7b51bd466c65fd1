// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#include "watch_says.hpp"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <string>

#include "big_word.hpp"
#include "judged_log.hpp"
#include "watched.hpp"

namespace stilling::command {
namespace {

using testing::HasSubstr;
using testing::Not;

constexpr std::string_view header = "time_s,stack_temp_degF,ambient_temp_degF,o2_pct,co_ppm\n";

std::string still(int from, int to, int co = 20, int stack = 450, int o2 = 5) {
  std::string rows;
  for (int t = from; t < to; ++t)
    rows += std::to_string(t) + ',' + std::to_string(stack + (t * 7 / 3) % 2) + ",68," +
            std::to_string(o2) + '.' + std::to_string(t % 2) + ',' + std::to_string(co) + '\n';
  return rows;
}

struct watch_of {
  explicit watch_of(const std::string& log) : judged{settle_request{}, said} { add(log); }
  told add(const std::string& more) {
    judged.push(more);
    state.test = said.test() ? &*said.test() : nullptr;
    state.as = said.as();
    state.judged_by = said.settings();
    state.danger = said.danger();
    return say(state);
  }
  watched said{false};
  judged_log<watched> judged;
  watch_state state;
};

TEST(say, has_words_before_any_row) {
  const auto t = say(watch_state{});
  EXPECT_EQ(t.word, "NO ROWS");
  EXPECT_EQ(t.answer, "No row has come yet.");
  EXPECT_TRUE(t.levels.empty());
}

TEST(say, names_what_it_waits_for) {
  const auto t = watch_of{std::string{header} + still(0, 30)}.add("");
  EXPECT_EQ(t.word, "WARMING");
  EXPECT_THAT(t.answer, HasSubstr("waits for stack temperature, O2 and CO"));
  ASSERT_EQ(t.levels.size(), 3U);
  EXPECT_FALSE(t.levels[0].measured);
}

TEST(say, tells_a_settled_state_with_its_uncertainty) {
  const auto t = watch_of{std::string{header} + still(0, 300)}.add("");
  EXPECT_EQ(t.word, "SETTLED");
  EXPECT_THAT(t.answer, HasSubstr("Settled since"));
  EXPECT_THAT(t.reading, HasSubstr("Reading 1"));
  EXPECT_THAT(t.reading, HasSubstr("stack 450"));
  EXPECT_THAT(t.reading, HasSubstr(" ± "));
  EXPECT_THAT(t.figures, HasSubstr("efficiency"));
  for (const auto& l : t.levels) {
    EXPECT_TRUE(l.steady) << l.now;
    EXPECT_LT(l.high, l.mark);
    EXPECT_GT(l.low, -l.mark);
  }
}

TEST(say, tells_what_a_move_changed_and_whether_that_is_real) {
  watch_of w{std::string{header} + still(0, 300)};
  const auto noted = w.add("# 299 adjusted air a quarter turn\n");
  EXPECT_EQ(noted.last_note, "4:59 adjusted air a quarter turn");
  EXPECT_THAT(noted.change, HasSubstr("shows with the next reading"));
  EXPECT_THAT(noted.next, HasSubstr("wait for what you moved"));
  const auto t = w.add(still(300, 700, 20, 470, 7));
  EXPECT_EQ(t.word, "SETTLED");
  EXPECT_THAT(t.change, HasSubstr("After `adjusted air a quarter turn`, against reading 1. Real:"));
  EXPECT_THAT(t.change, HasSubstr("stack +20.0 ± "));
  EXPECT_THAT(t.change, HasSubstr("O2 +2.0"));
  EXPECT_THAT(t.change, HasSubstr("May be chance: CO 0"));
}

TEST(say, asks_for_what_is_missing_in_the_order_of_work) {
  watch_of w{std::string{header} + still(0, 300)};
  EXPECT_THAT(say(w.state).next, HasSubstr("read the draft"));
  EXPECT_THAT(w.add("# 299 draft over fire -0.02\n").next, HasSubstr("draw a smoke spot"));
  EXPECT_THAT(w.add("# 299 smoke 3\n").next, HasSubstr("A little more air"));
}

TEST(say, puts_danger_first_and_lets_it_go_after_a_minute_without) {
  watch_of w{std::string{header} + still(0, 300)};
  auto t = w.add(still(300, 310, 450));
  EXPECT_EQ(t.word, "DANGER");
  ASSERT_FALSE(t.cautions.empty());
  EXPECT_EQ(t.cautions[0].grave, severity::danger);
  EXPECT_THAT(t.cautions[0].text, HasSubstr("DANGER: CO 450 ppm now, in the flue gas"));
  EXPECT_THAT(t.next, HasSubstr("CO before anything else"));
  w.state.danger_seen = true;
  t = say(w.state);
  EXPECT_NE(t.word, "DANGER");
  EXPECT_TRUE(t.cautions[0].seen);
  t = w.add(still(310, 340, 20));
  EXPECT_TRUE(w.state.danger);
  t = w.add(still(340, 420, 20));
  EXPECT_FALSE(w.state.danger);
}

TEST(say, neither_invents_nor_hides_in_notes) {
  watch_of w{std::string{header} + still(0, 90)};
  const auto t = w.add("# 89 \x1b[2J\xE2\x80\xAE evil\n");
  EXPECT_THAT(t.last_note, Not(HasSubstr("\x1b")));
  EXPECT_THAT(t.last_note, Not(HasSubstr("\xE2\x80\xAE")));
  EXPECT_THAT(t.last_note, HasSubstr("evil"));
}

TEST(say, tells_of_silence_and_of_lines_not_used) {
  watch_of w{std::string{header} + still(0, 90)};
  w.state.silent = 42;
  w.state.unusable = 2;
  const auto t = say(w.state);
  EXPECT_THAT(t.answer, HasSubstr("Nothing heard for 40 s"));
  EXPECT_EQ(t.cautions.back().text, "2 lines could not be used.");
}

TEST(span_words, are_as_fine_as_what_is_known) {
  EXPECT_EQ(span_words(-3), "0 s");
  EXPECT_EQ(span_words(7.4), "7 s");
  EXPECT_EQ(span_words(58), "1 min");
  EXPECT_EQ(span_words(97), "1 min 35 s");
  EXPECT_EQ(span_words(254), "4 min 10 s");
  EXPECT_EQ(span_words(3599), "60 min");
  EXPECT_EQ(span_words(9000), "2 h 30 min");
}

TEST(big_word, has_every_letter_of_every_state_and_fits_a_phone) {
  for (const auto word : state_words()) {
    const auto lines = big_word(word, 1, true);
    ASSERT_EQ(lines.size(), 3U) << word;
    for (const bool utf8 : {true, false})
      EXPECT_LE(big_word(word, 1, utf8)[0].size() / (utf8 ? 1 : 1), utf8 ? 120U : 40U) << word;
  }
  EXPECT_TRUE(big_word("settled", 1, true).empty());
  EXPECT_EQ(big_word("I", 1, false), (std::vector<std::string>{"#", "#", "#", "#", "#"}));
  EXPECT_EQ(big_word("I", 1, true), (std::vector<std::string>{"█", "█", "▀"}));
}

}  // namespace
}  // namespace stilling::command
