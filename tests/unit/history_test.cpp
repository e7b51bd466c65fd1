// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#include "stilling/history.hpp"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <nlohmann/json.hpp>
#include <sstream>

namespace stilling {
namespace {

using testing::HasSubstr;
using testing::Not;

/// A test with one reading of 5 % O2, 20 ppm CO and this stack temperature; degF in the log.
kept_test test_of(std::int64_t number, std::string_view day, double stack, double u = 0.2) {
  visit seen{no2_oil, {}};
  settled_reading r;
  const auto read = [&](channel c, double mean, double standard) {
    channel_reading x;
    x.mean = mean;
    x.standard_uncertainty = standard;
    x.degrees_of_freedom = 60;
    x.count = 120;
    r.channels.set(c, x);
  };
  read(channel::stack_temp, stack, u);
  read(channel::ambient_temp, 293.15, 0.1);
  read(channel::o2, 0.05, 0.0002);
  read(channel::co, 20e-6, 0.5e-6);
  r.declared = r.from = instant{seconds(100)};
  r.last_seen = instant{seconds(220)};
  r.to = r.last_seen;
  r.ended = cause::end_of_log;
  seen.add(note{3, instant{seconds(90)}, "smoke 1"});
  seen.add(r);
  presentation as;
  layout columns;
  for (const auto c : {channel::stack_temp, channel::ambient_temp})
    columns.columns[columns.count++] = {columns.count, c, unit::fahrenheit};
  columns.columns[columns.count++] = {2, channel::o2, unit::percent};
  columns.columns[columns.count++] = {3, channel::co, unit::ppm};
  as.follow(columns);
  log_summary s;
  s.frames = s.rows = 200;
  s.plateaus = 1;
  auto t = kept(seen, s, as);
  t.number = number;
  t.day = *day_of(day);
  t.about.customer = "A. Invented";
  t.about.appliance = "boiler";
  return t;
}

std::string course_of(const std::vector<kept_test>& tests) {
  std::string to;
  history::write_course(to, tests, history::shown_together(tests, {}),
                        history::reading_of_test::last);
  return to;
}

TEST(day, is_of_the_calendar) {
  EXPECT_EQ(day_of("1970-01-01"), 0);
  EXPECT_EQ(day_of("2026-11-25"), 20782);  // 1795564800 s, `date -u -d 2026-11-25 +%s`
  EXPECT_EQ(written_day(20782), "2026-11-25");
  for (const auto* wrong : {"2026-02-30", "2026-13-01", "25.11.2026", "2026-11-2", "2026-11-25 ",
                            "", "20x6-11-25"})
    EXPECT_FALSE(day_of(std::string_view{wrong})) << wrong;
  EXPECT_EQ(day_of(instant{seconds(1'795'564'800 + 86'399)}), 20782);
  EXPECT_FALSE(day_of(instant{seconds(3600)}));  // since the log began
}

TEST(kept, holds_what_the_visit_holds) {
  const auto t = test_of(1, "2024-11-02", 523.15);
  ASSERT_EQ(t.readings.size(), 1U);
  const auto& r = t.readings[0];
  EXPECT_EQ(r.read.channels[channel::stack_temp].mean, 523.15);
  const auto again = derive(r.read, no2_oil);
  const auto& heat = r.figures[index_of(figure::efficiency_gross)];
  EXPECT_EQ(*heat.value, again[figure::efficiency_gross]->value);  // to the last bit
  EXPECT_EQ(heat.by, name_of(again[figure::efficiency_gross]->by));
  const auto& none = r.figures[index_of(figure::draft_difference)];
  EXPECT_FALSE(none.value);
  EXPECT_EQ(none.by, "draft_absent");
  EXPECT_EQ(r.smoke, 1);
  EXPECT_EQ(t.fuel, "no2_oil");
  EXPECT_EQ(t.outcome, "settled");
  EXPECT_EQ(t.units[index_of(channel::stack_temp)], unit::fahrenheit);
}

TEST(appliance, is_known_by_its_site_else_by_its_customer) {
  auto a = test_of(1, "2024-11-02", 523.15), b = a;
  b.about.customer = "B. Invented";
  EXPECT_FALSE(same_appliance(a, b));
  a.about.site = b.about.site = "12 Invented Lane";  // it was sold
  EXPECT_TRUE(same_appliance(a, b));
  b.about.appliance = "furnace";
  EXPECT_FALSE(same_appliance(a, b));
}

TEST(course, tells_a_real_change_from_chance) {
  // 0.2 K each, k = 1: 2 x sqrt(0.08) = 0.57 K = 1.0 degF together.
  auto text = course_of({test_of(1, "2024-11-02", 523.15), test_of(2, "2025-11-02", 523.45)});
  EXPECT_THAT(text, HasSubstr("changed by more than chance: nothing"));
  EXPECT_THAT(text, HasSubstr("not by more: net stack temperature; O2; "));
  text = course_of({test_of(1, "2024-11-02", 523.15), test_of(2, "2025-11-02", 533.15)});
  EXPECT_THAT(text, HasSubstr("more than chance: net stack temperature +18.0 ± 1.2 °F"));
  EXPECT_THAT(text, HasSubstr("+18.0 ± 1.2 * |"));
  EXPECT_THAT(text, Not(HasSubstr("a year")));  // two tests make no trend
}

TEST(course, compares_no_efficiency_of_two_fuels) {
  auto one = test_of(1, "2024-11-02", 523.15), other = test_of(2, "2025-11-02", 573.15);
  other.fuel = "b100";
  const auto text = course_of({one, other});
  EXPECT_THAT(text, HasSubstr("net stack temperature +90.0"));
  EXPECT_THAT(text, Not(HasSubstr("efficiency, gross -")));
}

TEST(course, has_a_yearly_trend_of_three) {
  const auto text = course_of({test_of(1, "2023-11-02", 523.15), test_of(2, "2024-11-02", 533.15),
                               test_of(3, "2025-11-02", 543.15)});
  EXPECT_THAT(text, HasSubstr("a year: +18.0 ± "));
  EXPECT_THAT(text, HasSubstr("(3 tests in 2.0 years)"));
}

TEST(course, fits_its_page) {
  auto loud = test_of(3, "2025-11-02", 543.15, 40);
  std::istringstream lines{course_of(
      {test_of(1, "2023-11-02", 523.15), test_of(2, "2024-11-02", 523.15, 1e-9), loud})};
  for (std::string line; std::getline(lines, line);) {
    std::size_t width = 0;
    for (const char c : line) width += (static_cast<unsigned char>(c) & 0xC0U) != 0x80 ? 1U : 0U;
    // The caution that settle prints, too, is wider.
    const bool shared = line.starts_with("±") || line.starts_with("CO poisons") ||
                        line.starts_with("practice");
    EXPECT_LE(width, shared ? 90U : 80U) << line;
  }
}

TEST(course, as_a_page_needs_nothing_else_and_is_marked_up) {
  auto one = test_of(1, "2023-11-02", 523.15), other = test_of(2, "2024-11-02", 533.15);
  one.about.appliance = other.about.appliance = "<script>\"&";
  other.found.push_back({{}, "co_high", "danger", "co_fraction", {}, {}, {}, "", "CO <b>", ""});
  std::string page;
  const std::vector tests{one, other};
  history::write_html(page, tests, history::shown_together(tests, {}),
                      history::reading_of_test::last);
  EXPECT_THAT(page, testing::StartsWith("<!doctype html>"));
  EXPECT_THAT(page, HasSubstr("&lt;script&gt;&quot;&amp;"));
  EXPECT_THAT(page, HasSubstr("DANGER: CO &lt;b&gt;"));
  EXPECT_THAT(page, HasSubstr("+18.0 ± 1.2, more than chance"));
  EXPECT_THAT(page, HasSubstr("<circle"));
  for (const auto* outside : {"<script", "http", "src=", "url(http", "@import", "<link"})
    EXPECT_THAT(page, Not(HasSubstr(outside)));
}

TEST(course, says_what_the_uncertainty_holds) {
  const auto scatter = "the instrument's own error\ncomes on top";
  auto one = test_of(1, "2023-11-02", 523.15), other = test_of(2, "2024-11-02", 533.15);
  EXPECT_THAT(course_of({one, other}), HasSubstr(scatter));
  one.settings = other.settings = "[instrument]\nstack_temp = \"2 degF\"\n";
  EXPECT_THAT(course_of({one, other}), Not(HasSubstr(scatter)));
}

TEST(course, of_nothing_settled_says_so) {
  auto t = test_of(1, "2024-11-02", 523.15);
  t.readings.clear();
  t.outcome = "idle";
  EXPECT_THAT(course_of({t}), HasSubstr("nothing settled (idle)"));
}

TEST(json, reads_back_as_the_same_bits) {
  auto t = test_of(1, "2024-11-02", 523.15 + 1e-13);
  t.about.customer = "Q\"uote; O'Hara\nand \\ Ünal";
  t.settings = "fuel = \"b20\"\n[reading]\njoined = true\n";
  std::string text;
  history::write_json(text, std::vector{t});
  const auto said = nlohmann::json::parse(text).at("tests").at(0);
  const auto& reading = said.at("plateaus").at(0);
  EXPECT_EQ(reading.at("readings").at("stack_temp_K").at("value").get<double>(), 523.15 + 1e-13);
  EXPECT_EQ(reading.at("readings").at("stack_temp_K").at("u").get<double>(), 0.4);
  const auto& heat = t.readings[0].figures[index_of(figure::efficiency_gross)];
  EXPECT_EQ(reading.at("derived").at("efficiency_gross_fraction").at("value").get<double>(),
            *heat.value);
  EXPECT_EQ(reading.at("derived").at("draft_difference_Pa").at("reason"), "draft_absent");
  EXPECT_EQ(said.at("settings").size(), 3U);
  EXPECT_EQ(said.at("about").at("customer"), "Q\"uote; O'Hara\xEF\xBF\xBD" "and \\ Ünal");
}

TEST(csv, has_a_row_for_each_reading_and_one_for_a_test_without) {
  auto idle = test_of(2, "2025-11-02", 523.15);
  idle.readings.clear();
  idle.about.customer = "a, \"b\"";
  const std::vector tests{test_of(1, "2024-11-02", 523.15), idle};
  std::string text;
  history::write_csv(text, tests, history::shown_together(tests, {}));
  std::istringstream lines{text};
  std::string header, first, second;
  std::getline(lines, header);
  std::getline(lines, first);
  std::getline(lines, second);
  EXPECT_THAT(header, HasSubstr(",stack_temp_degF,stack_temp_degF_u,"));
  EXPECT_THAT(first, HasSubstr("1,2024-11-02,A. Invented,,boiler,,no2_oil,composition,settled,1,"));
  EXPECT_THAT(first, HasSubstr(",482,0.72,"));
  EXPECT_THAT(second, HasSubstr("\"a, \"\"b\"\"\""));
  EXPECT_EQ(std::ranges::count(header, ','), std::ranges::count(first, ','));
}

TEST(units, are_those_of_the_newest_or_as_asked) {
  auto old = test_of(1, "2023-11-02", 523.15), recent = test_of(2, "2024-11-02", 523.15);
  recent.units[index_of(channel::stack_temp)] = unit::celsius;
  const std::vector tests{recent, old};
  EXPECT_EQ(history::shown_together(tests, {}).unit_of(channel::stack_temp), unit::celsius);
  presentation asked;
  asked.temperatures = unit::kelvin;
  EXPECT_EQ(history::shown_together(tests, asked).unit_of(channel::stack_temp), unit::kelvin);
}

}  // namespace
}  // namespace stilling
