// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT

#include "stilling/session.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <cstddef>
#include <cstdio>
#include <string>
#include <type_traits>
#include <vector>

#include "support/flue.hpp"

namespace stilling {
namespace {

using invented::at;
using invented::flue;
using invented::quiet_flue;

static_assert(std::is_trivially_copyable_v<default_session>, "a session can be copied and saved");
static_assert(sizeof(default_session) < 256 * 1024, "and fits in static memory");
static_assert(sizeof(basic_session<64>) < sizeof(default_session));

/// An invented log: a flue at rest for so many seconds, in the canonical form.
std::string log_of(int seconds, int from = 0) {
  std::string text = "time_s,stack_temp_degF,ambient_temp_degF,o2_pct,co_ppm\n";
  quiet_flue show;
  for (int t = from; t < from + seconds; ++t) {
    const frame f = show(t);
    char line[96];
    std::snprintf(line, sizeof line, "%d,%.1f,%.1f,%.2f,%.0f\n", t,
                  f.indication[channel::stack_temp] * 1.8 - 459.67,
                  f.indication[channel::ambient_temp] * 1.8 - 459.67,
                  f.indication[channel::o2] * 100, f.indication[channel::co] * 1e6);
    text += line;
  }
  return text;
}

struct listener {
  std::vector<settled_reading> readings;
  std::vector<phase_change> phases;
  std::vector<discontinuity> breaks;
  std::vector<std::string> words;  // everything, in order

  [[nodiscard]] auto sink() {
    return overloaded{[this](const settled_reading& r) { readings.push_back(r), say("plateau"); },
                      [this](const phase_change& p) { phases.push_back(p), say(name_of(p.to)); },
                      [this](const burn&) { say("burn"); },
                      [this](const layout&) { say("layout"); },
                      [this](const note& n) { say(n.text); },
                      [this](const rejection&) { say("rejection"); },
                      [this](const discontinuity& d) { breaks.push_back(d), say(name_of(d.kind)); },
                      [this](const assumption& a) { say(name_of(a.what)); }};
  }
  [[nodiscard]] bool heard(std::string_view word) const {
    return std::find(words.begin(), words.end(), word) != words.end();
  }

 private:
  void say(std::string_view word) { words.emplace_back(word); }
};

listener listen(std::string_view bytes, std::size_t piece = std::string_view::npos) {
  listener out;
  auto sink = out.sink();
  default_session live{session_settings{}};
  for (; !bytes.empty(); bytes.remove_prefix(std::min(piece, bytes.size())))
    live.push(bytes.substr(0, piece), sink);
  live.finish(sink);
  return out;
}

TEST(session, turns_a_log_into_a_settled_reading) {
  const auto got = listen(log_of(600));
  ASSERT_EQ(got.readings.size(), 2U) << "open, then closed";
  const auto& r = got.readings[1];
  EXPECT_EQ(r.to, at(599));
  EXPECT_EQ(r.ended, cause::end_of_log);
  EXPECT_NEAR(r.channels[channel::stack_temp].mean, 520, 0.2);
  EXPECT_NEAR(r.channels[channel::o2].mean, 0.05, 2e-4);
  EXPECT_NEAR(r.channels[channel::co].mean, 20e-6, 0.5e-6);
  EXPECT_EQ(got.words.front(), "layout") << "the units are known before the first number";
}

TEST(session, does_not_care_in_which_pieces_the_bytes_arrive) {
  const auto log = log_of(400) + "# adjusted air\n" + "400,4x1,70,5.0,20\n";
  const auto whole = listen(log);
  for (const std::size_t piece : {1U, 7U, 100U}) {
    const auto cut = listen(log, piece);
    EXPECT_EQ(cut.words, whole.words) << piece;
    EXPECT_EQ(cut.readings, whole.readings) << piece;
    EXPECT_EQ(cut.phases, whole.phases) << piece;
  }
}

TEST(session, of_an_empty_log_has_nothing_to_say) {
  EXPECT_TRUE(listen("").words.empty());
  EXPECT_TRUE(listen("time_s,stack_temp_degF,o2_pct,co_ppm\n").readings.empty());
  EXPECT_TRUE(listen("time_s,stack_temp_degF,o2_pct,co_ppm\n0,470,5.0,20\n").readings.empty());
}

TEST(session, passes_on_what_is_not_its_business) {
  const auto got = listen(log_of(100) + "# smoke 0\nnot a row at all\n");
  EXPECT_TRUE(got.heard("smoke 0"));
  EXPECT_TRUE(got.heard("rejection"));
}

TEST(session, takes_rows_of_a_driver_of_its_own) {
  listener got;
  auto sink = got.sink();
  default_session live{session_settings{}};
  quiet_flue show;
  for (int t = 0; t < 600; ++t) live.push(show(t), sink);
  live.finish(sink);
  ASSERT_EQ(got.readings.size(), 2U);
  EXPECT_NEAR(got.readings[1].channels[channel::stack_temp].mean, 520, 0.2);
}

TEST(session, ends_what_is_open_where_the_source_breaks_off) {
  listener got;
  auto sink = got.sink();
  default_session live{session_settings{}};
  live.push(std::string_view{log_of(300)}, sink);
  ASSERT_EQ(got.readings.size(), 1U);
  live.push(discontinuity{0, at(300), break_kind::reconnect}, sink);
  ASSERT_EQ(got.readings.size(), 2U);
  EXPECT_EQ(got.readings[1].ended, cause::stream_broke);
  EXPECT_EQ(got.breaks.size(), 1U) << "and hands the break on";
  EXPECT_EQ(got.words.back(), "reconnect") << "after what it ended";
}

TEST(session, goes_on_with_the_layout_it_knows_after_a_break) {
  listener got;
  auto sink = got.sink();
  default_session live{session_settings{}};
  live.push(std::string_view{log_of(300)}, sink);
  live.push(discontinuity{0, at(300), break_kind::reconnect}, sink);
  auto rest = log_of(300, 300);
  rest.erase(0, rest.find('\n') + 1);  // no header: the instrument does not repeat it
  live.push(std::string_view{rest}, sink);
  live.finish(sink);
  EXPECT_LE(std::count(got.words.begin(), got.words.end(), "rejection"), 1)
      << "the first line may be the tail of one";
  EXPECT_EQ(got.readings.size(), 4U);
}

TEST(session, notices_silence_when_told_the_time) {
  listener got;
  auto sink = got.sink();
  default_session live{session_settings{}};
  live.push(std::string_view{log_of(300)}, sink);
  live.advance(at(400), sink);
  ASSERT_EQ(got.readings.size(), 2U);
  EXPECT_EQ(got.readings[1].ended, cause::gap);
  EXPECT_EQ(got.phases.back().to, phase::no_data);
}

TEST(session, can_be_told_of_any_time_at_all) {
  listener got;
  auto sink = got.sink();
  default_session live{session_settings{}};
  live.push(invented::row(-1e9, flue{}), sink);
  live.advance(instant::max(), sink);
  EXPECT_EQ(got.phases.back().to, phase::no_data) << "the end of time is a silence";
  live.advance(instant::min(), sink);
  live.finish(sink);
  live.advance(instant{}, sink);
  EXPECT_EQ(got.phases.size(), 2U) << "and nothing follows from a time before";
}

TEST(session, after_finish_is_as_good_as_new) {
  default_session live{session_settings{}};
  live.push(std::string_view{"time_ms;o2_pct\n7;5,0\n9;x\n# note"}, any_sink{});
  live.finish(any_sink{});
  listener again;
  auto sink = again.sink();
  live.push(std::string_view{log_of(300)}, sink);
  live.finish(sink);
  const auto fresh = listen(log_of(300));
  EXPECT_EQ(again.words, fresh.words);
  EXPECT_EQ(again.readings, fresh.readings);
  live.finish(sink);
  EXPECT_EQ(again.words, fresh.words) << "nothing left to say";
}

TEST(session, can_be_copied_in_the_middle) {
  const auto log = log_of(600);
  listener a, b;
  auto hear_a = a.sink(), hear_b = b.sink();
  default_session live{session_settings{}};
  const auto half = std::string_view{log}.substr(0, log.size() / 3);
  live.push(half, hear_a);
  b = a;
  auto copy = live;
  for (auto* one : {&live, &copy}) {
    auto& hear = one == &live ? hear_a : hear_b;
    one->push(std::string_view{log}.substr(half.size()), hear);
    one->finish(hear);
  }
  EXPECT_EQ(a.readings, b.readings);
  EXPECT_EQ(a.words, b.words);
}

TEST(session, settles_for_what_is_required) {
  std::string log = "time_s,stack_temp_degF\n";
  for (int t = 0; t < 300; ++t)
    log += std::to_string(t) + (t % 3 == 0 ? ",470.1\n" : ",470.0\n");
  EXPECT_TRUE(listen(log).readings.empty()) << "O2 and CO were never measured";
  session_settings s;
  s.require({channel::stack_temp});
  listener got;
  auto sink = got.sink();
  default_session live{s};
  live.push(std::string_view{log}, sink);
  live.finish(sink);
  EXPECT_EQ(got.readings.size(), 2U);
}

TEST(reader_and_judge, are_the_two_halves_of_a_session) {
  std::size_t frames = 0, verdicts = 0;
  auto reader = make_reader(session_settings{});
  auto judge = make_judge(session_settings{});
  auto count = overloaded{[&](const verdict&) { ++verdicts; }, [](const auto&) {}};
  auto into_judge =
      overloaded{[&](const frame& f) { ++frames, judge.push(f, count); }, [](const auto&) {}};
  reader.push(std::string_view{log_of(100)}, into_judge);
  reader.finish(into_judge);
  EXPECT_EQ(frames, 100U);
  EXPECT_EQ(verdicts, 100U);
}

TEST(reader, hands_on_how_finely_a_value_was_written) {
  std::array<double, channel_count> written{};
  auto reader = make_reader(session_settings{});
  auto into = overloaded{[&](const frame& f) { written = f.written_step; }, [](const auto&) {}};
  reader.push(std::string_view{"time_s,stack_temp_degF,o2_pct,co_ppm\n0,471.2,5.25,12\n"}, into);
  reader.finish(into);
  EXPECT_NEAR(written[index_of(channel::stack_temp)], 0.1 / 1.8, 1e-12);
  EXPECT_NEAR(written[index_of(channel::o2)], 0.0001, 1e-12);
  EXPECT_NEAR(written[index_of(channel::co)], 1e-6, 1e-15);
  EXPECT_EQ(written[index_of(channel::no)], 0);
}

}  // namespace
}  // namespace stilling
