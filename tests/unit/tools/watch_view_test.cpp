// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#include "watch_view.hpp"

#include <gtest/gtest.h>

#include <cstdlib>
#include <fstream>
#include <iterator>
#include <memory>
#include <string>

#include "cells.hpp"
#include "judged_log.hpp"
#include "watched.hpp"

namespace stilling::command {
namespace {

std::string content_of(const std::string& path) {
  std::ifstream file{path, std::ios::binary};
  return {std::istreambuf_iterator<char>{file}, {}};
}

const std::string golden = STILLING_TEST_FOLDER "/golden/";

std::string head_of(std::string_view log, int rows) {
  std::size_t end = 0;
  for (; rows >= 0 && end < log.size(); ++end)
    if (log[end] == '\n') --rows;
  return std::string{log.substr(0, end)};
}

/// A watch that has seen so much and no more.
struct watch_of {
  explicit watch_of(std::string_view log) : judged{request(), said} {
    judged.push(log);
    state.test = said.test() ? &*said.test() : nullptr;
    state.as = said.as();
    state.judged_by = said.settings();
    state.danger = said.danger();
    state.source = "a pipe";
  }
  static settle_request request() {
    settle_request r;
    r.forecast = true;
    return r;
  }
  watched said{false};
  judged_log<watched> judged;
  watch_state state;
};

/// The invented visit of tests/golden after so many lines.
std::unique_ptr<watch_of> visit_after(int lines) {
  return std::make_unique<watch_of>(head_of(content_of(golden + "visit.csv"), lines));
}

/// A flue that holds still, and CO that climbs to 520 ppm.
std::string log_of_danger() {
  std::string log = "time_s,stack_temp_degF,ambient_temp_degF,o2_pct,co_ppm\n";
  for (int t = 0; t < 400; ++t) {
    const int co = t < 200 ? 20 : t < 300 ? 20 + 5 * (t - 200) : 520;
    log += std::to_string(t) + ',' + std::to_string(450 + (t * 7 / 3) % 2) + ",68,5." +
           std::to_string(t % 2) + ',' + std::to_string(co) + '\n';
  }
  return log;
}

std::string text_of(const page& p) {
  std::string to;
  for (const auto& line : p.lines) {
    constexpr std::string_view marks = " *!";
    to += marks[static_cast<std::size_t>(line.is)];
    to += '|';
    to += line.text;
    to += '\n';
  }
  return to;
}

void compare(const std::string& name, const watch_state& s, const page_foot& foot,
             screen::size room, bool utf8 = true) {
  const auto text = text_of(lay_out(say(s), foot, room, utf8));
  const auto path = golden + "watch/" + name + ".txt";
  if (std::getenv("RENEW_GOLDEN") != nullptr) std::ofstream{path, std::ios::binary} << text;
  EXPECT_EQ(text, content_of(path)) << name;
}

TEST(watch_view, shows_each_phase_as_it_was_when_last_looked_at) {
  page_foot foot;
  foot.recorded_in = "test.csv";
  for (const auto& [name, lines] :
       {std::pair{"fresh_air", 40}, {"no_fire", 90}, {"warming", 300}, {"settled", 900},
        {"moved", 1060}, {"settled_again", 1300}, {"noted_a_move", 1440}, {"cooling", 1930}}) {
    const auto w = visit_after(lines);
    compare(std::string{name} + "_80x24", w->state, foot, {80, 24});
    compare(std::string{name} + "_40x20", w->state, foot, {40, 20});
  }
  const auto w = visit_after(1300);
  compare("settled_again_120x40", w->state, foot, {120, 40});
  compare("settled_again_10x3", w->state, foot, {10, 3});
  compare("settled_again_ascii", w->state, foot, {80, 24}, false);
}

TEST(watch_view, shows_a_note_under_way_and_what_it_enters_as) {
  const auto w = visit_after(1300);
  page_foot foot;
  foot.typed = "air a quarter turn";
  compare("typing_80x24", w->state, foot, {80, 24});
  compare("typing_40x20", w->state, foot, {40, 20});
  const auto p = lay_out(say(w->state), foot, {80, 24}, true);
  ASSERT_TRUE(p.cursor);
  EXPECT_EQ(p.cursor->rows, 23U);
  EXPECT_EQ(p.cursor->columns, 6U + 18U);
}

TEST(watch_view, shows_danger_on_top_until_it_was_seen) {
  watch_of w{log_of_danger()};
  ASSERT_TRUE(w.state.danger);
  compare("danger_80x24", w.state, {}, {80, 24});
  compare("danger_24x8", w.state, {}, {24, 8});
  compare("danger_10x3", w.state, {}, {10, 3});
  w.state.danger_seen = true;
  compare("danger_seen_80x24", w.state, {}, {80, 24});
}

TEST(watch_view, ends_with_the_log) {
  const auto w = visit_after(1935);
  w->state.ended = true;
  page_foot foot;
  foot.ended = true;
  compare("ended_80x24", w->state, foot, {80, 24});
}

TEST(watch_view, fits_any_room) {
  auto w = visit_after(1300);
  w->state.source = "ein Gerät 燃焼 мазут \U0001F525";
  page_foot typing, hinting;
  typing.typed = "燃焼 äöü \U0001F525 and a long note that goes on and on beyond any row of this";
  hinting.hint = "a hint";
  watch_of danger{log_of_danger()};
  for (const auto* state : {&w->state, &danger.state}) {
    const auto t = say(*state);
    for (std::size_t rows = 1; rows <= 45; rows += rows < 8 ? 1 : 3)
      for (std::size_t columns = 1; columns <= 130; columns += columns < 12 ? 1 : 7)
        for (const auto& foot : {page_foot{}, typing, hinting})
          for (const bool utf8 : {true, false}) {
            const auto p = lay_out(t, foot, {columns, rows}, utf8);
            ASSERT_LE(p.lines.size(), rows) << columns << 'x' << rows;
            for (const auto& line : p.lines) {
              ASSERT_LE(cells_of(line.text), columns) << columns << 'x' << rows << line.text;
              if (utf8) continue;
              for (const char c : line.text) ASSERT_GE(c, ' ') << line.text;
            }
            if (p.cursor) {
              ASSERT_LT(p.cursor->columns, columns);
              ASSERT_LT(p.cursor->rows, rows);
            }
          }
  }
}

TEST(watch_view, keeps_the_danger_where_nothing_else_has_room) {
  watch_of w{log_of_danger()};
  for (std::size_t rows = 1; rows <= 24; ++rows) {
    const auto p = lay_out(say(w.state), {}, {40, rows}, true);
    ASSERT_FALSE(p.lines.empty());
    bool found = false;
    for (const auto& line : p.lines)
      found = found || (line.is == page_line::weight::alarm &&
                        line.text.find("DANGER: CO") != std::string::npos);
    EXPECT_TRUE(found) << rows;
  }
}

TEST(level, draws_the_bubble_where_the_rate_may_lie) {
  level l;
  l.mark = 1.5;
  EXPECT_EQ(drawn(l, 13, false), "...|.....|...");
  l.measured = true;
  l.low = -0.4, l.high = 0.4;
  EXPECT_EQ(drawn(l, 13, false), "...|.===.|...");
  l.low = 4, l.high = 5;
  EXPECT_EQ(drawn(l, 13, false), "...|.....|..>");
  l.low = -9, l.high = 9;
  EXPECT_EQ(drawn(l, 13, false), "<==|=====|==>");
}

TEST(level, shows_a_bubble_that_crosses_a_mark_by_little) {
  level l;
  l.mark = 1.5;
  l.measured = true;
  l.low = 0.3, l.high = 1.55;
  EXPECT_EQ(drawn(l, 13, false), "...|...==|=..");
  l.high = 1.45;
  EXPECT_EQ(drawn(l, 13, false), "...|...==|...");
}

TEST(level, has_no_marks_where_a_rule_about_readings_decides) {
  level l;
  l.mark = 0;
  l.measured = true;
  EXPECT_EQ(drawn(l, 5, false), "..=..");
}

}  // namespace
}  // namespace stilling::command
