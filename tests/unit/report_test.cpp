// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#include "stilling/report.hpp"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <algorithm>
#include <nlohmann/json.hpp>
#include <string>
#include <vector>

#include "stilling/terms/units.hpp"

namespace stilling {
namespace {

using nlohmann::json;
using testing::HasSubstr;
using testing::Not;

instant at(std::int64_t s) { return instant{seconds(s)}; }

/// An appliance of invented numbers: stack degF over 68 degF, O2 as a fraction, CO in ppm.
settled_reading settled(int declared, int to, double stack, double o2, double co) {
  settled_reading r;
  r.declared = at(declared);
  r.from = at(declared - 60);
  r.to = r.last_seen = at(to);
  r.ended = cause::departed;
  const auto lane = [&](channel c, double mean, double u) {
    channel_reading x;
    x.mean = mean;
    x.standard_uncertainty = u;
    x.degrees_of_freedom = 40;
    r.channels.set(c, x);
  };
  lane(channel::stack_temp, temperature::from_fahrenheit(stack).in_kelvins(), 0.2);
  lane(channel::ambient_temp, temperature::from_fahrenheit(68).in_kelvins(), 0.1);
  lane(channel::o2, o2, 0.0003);
  lane(channel::co, co * 1e-6, 0.4e-6);
  return r;
}

struct test_of_a_burner {
  visit test{*find_fuel("no2_oil"), {}};
  log_summary summary;
  presentation as;
  particulars about;

  test_of_a_burner() {
    layout l;
    l.time = {clock_form::number, time_unit::second, 0, 0};
    l.insert({1, channel::stack_temp, unit::fahrenheit});
    l.insert({2, channel::ambient_temp, unit::fahrenheit});
    l.insert({3, channel::o2, unit::percent});
    l.insert({4, channel::co, unit::ppm});
    as.follow(l);
    summary.rows = summary.frames = 1800;
  }
  void add(const settled_reading& r) {
    test.add(r);
    ++summary.plateaus;
  }
  void say(int t, std::string_view text) { test.add(note{1, at(t), text}); }
  /// Two readings and a move between them.
  void move_once() {
    add(settled(600, 1000, 480, 0.065, 20));
    say(1010, "adjusted air a quarter turn");
    add(settled(1200, 1500, 470, 0.050, 20));
  }

  [[nodiscard]] reported all() const { return {test, summary, as, about}; }
  [[nodiscard]] std::string text(std::size_t width = 80, std::size_t copies = 1) const {
    std::string to;
    report::write_text(to, all(), width, copies);
    return to;
  }
  /// Lines joined, so that a sentence is found wherever it was broken.
  [[nodiscard]] std::string words() const {
    std::string to = text(400);
    return to;
  }
  [[nodiscard]] json object() const {
    std::string to;
    report::write_json(to, all());
    return json::parse(to);
  }
};

std::size_t letters(std::string_view line) {
  return static_cast<std::size_t>(std::ranges::count_if(
      line, [](char c) { return (static_cast<unsigned char>(c) & 0xC0U) != 0x80U; }));
}

TEST(report, no_line_is_wider_than_the_paper_and_no_number_is_torn_from_its_unit) {
  test_of_a_burner b;
  b.move_once();
  b.about.remarks = std::string(130, 'w') + " after a word wider than the paper";
  for (const std::size_t width : {40U, 48U, 61U, 80U, 132U}) {
    const auto text = b.text(width);
    for (std::size_t from = 0; from < text.size();) {
      const auto end = text.find('\n', from);
      const auto line = std::string_view{text}.substr(from, end - from);
      EXPECT_LE(letters(line), width + line.starts_with('\f')) << line;
      EXPECT_FALSE(line.starts_with("±") && !line.starts_with("± is")) << line;
      EXPECT_FALSE(line.ends_with("±")) << line;
      EXPECT_FALSE(line.ends_with(' ')) << line;
      from = end + 1;
    }
  }
}

TEST(report, narrower_than_forty_columns_is_forty) {
  const test_of_a_burner b;
  EXPECT_EQ(b.text(3), b.text(report::least_width));
}

TEST(report, the_customer_has_a_page_and_copies_are_counted) {
  test_of_a_burner b;
  b.move_once();
  const auto one = b.text();
  EXPECT_EQ(std::ranges::count(one, '\f'), 1);
  EXPECT_THAT(one, HasSubstr("\fYour burner test in plain words"));
  EXPECT_THAT(one, Not(HasSubstr("copy 1")));
  const auto two = b.text(80, 2);
  EXPECT_EQ(std::ranges::count(two, '\f'), 3);
  EXPECT_THAT(two, HasSubstr("copy 1 of 2\n"));
  EXPECT_THAT(two, HasSubstr("copy 2 of 2\n"));
}

TEST(report, what_was_not_said_is_a_place_to_write_on) {
  test_of_a_burner b;
  b.move_once();
  EXPECT_THAT(b.words(), HasSubstr("appliance ____________________; burner"));
  b.about.appliance = "cast boiler\x1B[2J";
  EXPECT_THAT(b.words(), HasSubstr("appliance cast boiler\xEF\xBF\xBD[2J; burner ____"));
  EXPECT_TRUE(b.object()["about"]["burner"].is_null());
}

TEST(report, a_move_is_told_in_its_own_words_and_what_it_changed_beside_it) {
  test_of_a_burner b;
  b.move_once();
  const auto text = b.words();
  EXPECT_THAT(text, HasSubstr("Moved: \"adjusted air a quarter turn\" (16:50)."));
  EXPECT_THAT(text, HasSubstr("-1.50 ± 0.09"));  // O2: u = 2.0 x sqrt(2) x 0.03
  EXPECT_THAT(text, HasSubstr("(0.0 ± 1.2)"));   // CO: nothing but chance
  const auto o = b.object();
  ASSERT_EQ(o["rows"].size(), 2U);
  EXPECT_TRUE(o["rows"][0]["change"].is_null());
  const auto& change = o["rows"][1]["change"];
  EXPECT_NEAR(change["o2_pct"]["value"].get<double>(), -1.5, 1e-6);
  EXPECT_TRUE(change["o2_pct"]["real"].get<bool>());
  EXPECT_FALSE(change["co_ppm"]["real"].get<bool>());
  EXPECT_EQ(o["rows"][1]["moves"][0]["text"], "adjusted air a quarter turn");
  EXPECT_EQ(o["best"], 2);
}

TEST(report, a_log_without_notes_gets_no_moves) {
  test_of_a_burner b;
  b.add(settled(600, 1000, 480, 0.065, 20));
  b.add(settled(1200, 1500, 470, 0.050, 20));
  const auto text = b.words();
  EXPECT_THAT(text, Not(HasSubstr("Moved:")));
  EXPECT_THAT(text, HasSubstr("what was moved is not said. A guess from what changed: the air"));
  EXPECT_THAT(text, HasSubstr("The log holds no notes"));
  EXPECT_TRUE(b.object()["rows"][1]["moves"].empty());
}

TEST(report, readings_between_which_nothing_was_moved_save_nothing) {
  test_of_a_burner b;
  auto first = settled(600, 1000, 480, 0.050, 20);
  first.ended = cause::burner_off;
  b.add(first);
  b.add(settled(1800, 2000, 470, 0.050, 20));
  EXPECT_THAT(b.words(), HasSubstr("what they differ by is no saving"));
  EXPECT_THAT(b.words(), Not(HasSubstr("What it saves")));
  EXPECT_TRUE(b.object()["saving"].is_null());
}

TEST(report, a_year_s_saving_has_its_interval_and_stays_blank_without_a_use) {
  test_of_a_burner b;
  b.move_once();
  EXPECT_THAT(b.words(), HasSubstr("burned in a year that is __________ less"));
  b.about.use = yearly_use{1000, 4.0};
  b.about.fuel_unit = "gal";
  b.about.currency = "$";
  const auto o = b.object();
  // saved() itself is checked against a calculation by hand in tests/unit/visit.
  const double share = o["saving"]["share_pct"]["value"];
  EXPECT_GT(share, 0.5);
  EXPECT_NEAR(o["saving"]["amount"]["value"].get<double>(), 10 * share, 0.01);
  EXPECT_NEAR(o["saving"]["money"]["value"].get<double>(), 40 * share, 0.05);
  EXPECT_THAT(b.words(), HasSubstr("Of 1000 gal a year that is"));
  EXPECT_THAT(b.words(), HasSubstr("If you burn 1000 gal in a year, that is between"));
}

TEST(report, where_nothing_settled_it_says_why_and_gives_no_figure) {
  test_of_a_burner b;
  for (int i = 0; i < 3; ++i) {
    burn one;
    one.from = at(600 * i);
    one.to = at(600 * i + 200);
    one.peak.set(channel::stack_temp, temperature::from_fahrenheit(350 + i).in_kelvins());
    b.summary.add(one);
  }
  const auto text = b.words();
  EXPECT_THAT(text, HasSubstr("the burner cycles. 3 burns, the longest 3 min 20 s."));
  EXPECT_THAT(text, HasSubstr("3 at 20:00  3 min 20 s                352"));
  EXPECT_THAT(text, HasSubstr("too quickly to be measured"));
  EXPECT_THAT(text, Not(HasSubstr("How hot")));
  EXPECT_THAT(text, Not(HasSubstr("What each move changed")));
  EXPECT_EQ(b.object()["end"]["outcome"], "cycling");
  EXPECT_TRUE(b.object()["best"].is_null());
}

TEST(report, an_empty_log_makes_a_report_too) {
  test_of_a_burner b;
  b.summary = {};
  EXPECT_THAT(b.words(), HasSubstr("Nothing settled: the log holds no readings."));
  EXPECT_THAT(b.words(), HasSubstr("The instrument recorded nothing."));
  EXPECT_TRUE(b.object()["from_s"].is_null());
}

TEST(report, danger_stands_before_what_settled) {
  test_of_a_burner b;
  b.add(settled(600, 1000, 480, 0.050, 600));
  for (const auto& f : judge(b.test.rows()[0], b.test, b.as.limits)) b.test.add(at(600), f);
  const auto text = b.words();
  const auto danger = text.find("\nDANGER\n"), what = text.find("What settled");
  ASSERT_NE(danger, text.npos);
  EXPECT_LT(danger, what);
  EXPECT_THAT(text, HasSubstr("holds too much carbon monoxide"));
  EXPECT_THAT(text, HasSubstr("That is not below 100"));
}

TEST(report, what_was_found_of_one_kind_is_told_once_with_its_times) {
  test_of_a_burner b;
  b.add(settled(600, 1000, 480, 0.080, 20));
  b.say(1010, "adjusted air");
  b.add(settled(1200, 1500, 470, 0.050, 20));
  const auto all = judge(b.test.rows()[0], b.test, b.as.limits);
  for (const int t : {600, 700}) b.test.add(at(t), *all.find(finding_kind::oxygen_high));
  const auto text = b.words();
  EXPECT_THAT(text, HasSubstr("Warning, at 10:00 and 11:40: O2 8.00 ± 0.06 %; the limit is 7 %"));
  EXPECT_THAT(text, HasSubstr("At the last settled reading this was so no longer."));
  // So it is no longer the owner's affair.
  EXPECT_THAT(text, Not(HasSubstr("More air goes through the fire than it needs")));
}

TEST(report, times_of_day_are_those_of_the_zone) {
  test_of_a_burner b;
  constexpr std::int64_t noon = 1'795'608'000;  // 2026-11-25 12:00:00 UTC
  auto r = settled(600, 1000, 480, 0.050, 20);
  const auto by = [](instant t) { return t + seconds(noon); };
  r.declared = by(r.declared);
  r.from = by(r.from);
  r.to = r.last_seen = by(*r.to);
  verdict v;
  v.row.at = at(noon);
  b.test.add(v);
  b.add(r);
  EXPECT_THAT(b.words(), HasSubstr("25 November 2026, 12:00:00 to 12:00:00 (UTC)."));
  EXPECT_THAT(b.words(), HasSubstr("known to be settled at 12:10:00."));
  b.as.clock = {[](const void*, std::int64_t) noexcept { return std::int32_t{-13 * 3600}; },
                nullptr, "Far/West"};
  EXPECT_THAT(b.words(), HasSubstr("24 November 2026, 23:00:00 to 23:00:00 (Far/West)."));
  EXPECT_THAT(b.words(), HasSubstr("known to be settled at 23:10:00."));
}

TEST(report, where_the_clock_went_back_what_came_first_stands_first) {
  test_of_a_burner b;
  b.test.add(phase_change{at(500), 10, phase::no_data, phase::fresh_air, cause::oxygen_at_air, {}});
  b.test.add(note{20, at(510), "before"});
  b.test.add(discontinuity{30, at(5), break_kind::clock_back});
  b.test.add(note{40, at(7), "after"});
  const auto text = b.words();
  const auto before = text.find("note: before"), broke = text.find("the clock went back (line 30)"),
             after = text.find("note: after");
  ASSERT_NE(after, text.npos);
  EXPECT_LT(before, broke);
  EXPECT_LT(broke, after);
}

TEST(report, gross_and_net_are_never_on_one_page) {
  test_of_a_burner b;
  b.move_once();
  EXPECT_THAT(b.words(), HasSubstr("gross basis"));
  EXPECT_THAT(b.words(), Not(HasSubstr("net basis")));
  test_of_a_burner other;
  other.as.how.by = method::siegert;
  other.test = visit{*find_fuel("no2_oil"), other.as.how};
  other.move_once();
  EXPECT_THAT(other.words(), HasSubstr("net basis"));
  EXPECT_THAT(other.words(), Not(HasSubstr("gross basis")));
}

TEST(report, among_equals_less_smoke_is_better_than_more_heat) {
  test_of_a_burner b;
  b.add(settled(600, 1000, 470, 0.050, 20));
  b.say(900, "smoke 2");
  b.say(1010, "adjusted air");
  b.add(settled(1200, 1500, 480, 0.060, 20));
  b.say(1400, "smoke trace");
  const auto rows = b.test.rows();
  EXPECT_GT(rows[0].figures[figure::efficiency_gross]->value,
            rows[1].figures[figure::efficiency_gross]->value);
  EXPECT_EQ(best_row(rows, b.test, b.as.limits), 1U);
}

TEST(report, the_same_visit_makes_the_same_bytes) {
  test_of_a_burner b;
  b.move_once();
  EXPECT_EQ(b.text(48), b.text(48));
  EXPECT_EQ(b.object().dump(), b.object().dump());
}

}  // namespace
}  // namespace stilling
