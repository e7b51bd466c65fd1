// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#include "stilling/text.hpp"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <cmath>
#include <cstdint>
#include <limits>
#include <nlohmann/json.hpp>
#include <string>
#include <vector>

#include "stilling/terms/units.hpp"

namespace stilling {
namespace {

using nlohmann::json;
using nlohmann::ordered_json;
using testing::HasSubstr;
using testing::Not;

instant at(std::int64_t s, std::int64_t ns = 0) { return instant{seconds(s) + duration{ns}}; }

frame frame_at(instant t, std::uint64_t line) {
  frame f;
  f.at = t;
  f.line = line;
  return f;
}

layout usual_layout() {
  layout l;
  l.time = {clock_form::number, time_unit::second, 0, 0};
  l.insert({1, channel::stack_temp, unit::fahrenheit});
  l.insert({2, channel::ambient_temp, unit::fahrenheit});
  l.insert({3, channel::o2, unit::percent});
  l.insert({4, channel::co, unit::ppm});
  l.fields = 5;
  return l;
}

presentation usual() {
  presentation p;
  p.follow(usual_layout());
  return p;
}

channel_reading reading(double mean, double u) {
  channel_reading r;
  r.mean = mean;
  r.standard_uncertainty = u;
  r.coverage = 1;
  r.count = 300;
  r.effective_count = 41.26;
  return r;
}

/// 471.2 degF over 68 degF, O2 5 %, CO 12 ppm; settled at 600 s, closed.
settled_reading closed_reading() {
  settled_reading r;
  r.declared = at(600);
  r.from = at(540);
  r.to = r.last_seen = at(905, 500'000'000);
  r.released = at(911);
  r.ended = cause::departed;
  auto stack = reading(temperature::from_fahrenheit(471.2).in_kelvins(), 0.4 / 1.8);
  stack.rate = 0.6 / 1.8 / 60;
  stack.rate_bound = 1.9 / 1.8 / 60;
  stack.remaining = 2.1 / 1.8;
  stack.peak = temperature::from_fahrenheit(474).in_kelvins();
  stack.step = 1 / 1.8;
  stack.set_aside = 3;
  r.channels.set(channel::stack_temp, stack);
  r.channels.set(channel::ambient_temp,
                 reading(temperature::from_fahrenheit(68).in_kelvins(), 0.1));
  r.channels.set(channel::o2, reading(0.05, 0.00025));
  r.channels.set(channel::co, reading(12e-6, 0.5e-6));
  return r;
}

template <class... What> std::string line_of(const What&... what) {
  std::string to;
  jsonl::write(to, what...);
  return to;
}

// --- the presentation ----------------------------------------------------------------------

TEST(presentation, speaks_in_the_logs_own_units) {
  const auto p = usual();
  EXPECT_EQ(key_of(channel::stack_temp, p.unit_of(channel::stack_temp)), "stack_temp_degF");
  EXPECT_EQ(key_of(channel::o2, p.unit_of(channel::o2)), "o2_pct");
  EXPECT_TRUE(p.columns.contains(channel::co));
  EXPECT_FALSE(p.columns.contains(channel::co2));
}

TEST(presentation, gives_a_channel_the_log_lacks_the_unit_of_its_sibling) {
  layout l;
  l.insert({1, channel::stack_temp, unit::celsius});
  l.insert({2, channel::draft_overfire, unit::inch_of_water});
  presentation p;
  p.follow(l);
  EXPECT_EQ(p.unit_of(channel::ambient_temp), unit::celsius);
  EXPECT_EQ(p.unit_of(channel::draft_breech), unit::inch_of_water);
  p.temperatures = unit::kelvin;
  p.follow(l);
  EXPECT_EQ(p.unit_of(channel::stack_temp), unit::kelvin);
  EXPECT_EQ(p.unit_of(channel::draft_breech), unit::inch_of_water);
}

// --- JSON lines ----------------------------------------------------------------------------

TEST(jsonl_text, writes_times_as_exact_decimals) {
  discontinuity d{.line = 7, .at = {}, .kind = break_kind::repeat};
  const auto time_of = [&](std::int64_t ns) {
    d.at = instant{duration{ns}};
    const auto text = line_of(d);
    const auto from = text.find("\"time_s\":") + 9;
    return text.substr(from, text.find(',', from) - from);
  };
  EXPECT_EQ(time_of(0), "0");
  EXPECT_EQ(time_of(312'000'000'000), "312");
  EXPECT_EQ(time_of(-500'000'000), "-0.5");
  EXPECT_EQ(time_of(1), "0.000000001");
  EXPECT_EQ(time_of(1'700'000'000'123'456'789), "1700000000.123456789");
  EXPECT_EQ(time_of(std::numeric_limits<std::int64_t>::min()), "-9223372036.854775808");
  EXPECT_EQ(time_of(std::numeric_limits<std::int64_t>::max()), "9223372036.854775807");
}

TEST(jsonl_text, writes_a_closed_plateau_in_the_order_of_the_contract) {
  const auto text = line_of(closed_reading(), usual());
  EXPECT_EQ(text.back(), '\n');
  EXPECT_EQ(std::count(text.begin(), text.end(), '\n'), 1);
  const auto j = ordered_json::parse(text);
  std::vector<std::string> keys;
  for (const auto& [key, value] : j.items()) keys.push_back(key);
  EXPECT_EQ(keys, (std::vector<std::string>{"event", "declared_s", "from_s", "to_s", "released_s",
                                            "end_reason", "readings", "derived", "flags"}));
  EXPECT_EQ(j["declared_s"], 600);
  EXPECT_EQ(j["to_s"], 905.5);
  EXPECT_EQ(j["end_reason"], "departed");
  const auto& stack = j["readings"]["stack_temp_degF"];
  keys.clear();
  for (const auto& [key, value] : stack.items()) keys.push_back(key);
  EXPECT_EQ(keys, (std::vector<std::string>{"value", "u", "rate_per_min", "rate_bound_per_min",
                                            "remaining", "peak", "lag_s", "coverage",
                                            "longest_gap_s", "n", "n_effective", "set_aside"}));
}

TEST(jsonl_text, expands_uncertainty_and_tells_rates_per_minute) {
  const auto stack = json::parse(line_of(closed_reading(), usual()))["readings"]["stack_temp_degF"];
  EXPECT_EQ(stack["value"], 471.2);
  EXPECT_EQ(stack["u"], 0.8);
  EXPECT_EQ(stack["rate_per_min"], 0.6);
  EXPECT_EQ(stack["rate_bound_per_min"], 1.9);
  EXPECT_EQ(stack["remaining"], 2.1);
  EXPECT_EQ(stack["peak"], 474);
  EXPECT_EQ(stack["n"], 300);
  EXPECT_EQ(stack["n_effective"], 41.3);
  EXPECT_EQ(stack["set_aside"], 3);
}

TEST(jsonl_text, shows_two_digits_beyond_the_first_of_the_uncertainty) {
  auto r = closed_reading();
  r.channels.set(channel::o2, reading(0.0512345678, 0.0000123456));
  const auto text = line_of(r, usual());
  EXPECT_THAT(text, HasSubstr("\"o2_pct\":{\"value\":5.12346,\"u\":0.00247,"));
}

TEST(jsonl_text, says_null_where_a_thing_is_unknown) {
  auto r = closed_reading();
  r.channels.set(channel::co, reading(12e-6, 0));  // scatter of nothing, step unknown
  r.channels.set(channel::o2, reading(std::numeric_limits<double>::quiet_NaN(), 1));
  r.to = r.released = std::nullopt;
  r.ended = cause::none;
  const auto j = json::parse(line_of(r, usual()));
  EXPECT_TRUE(j["to_s"].is_null());
  EXPECT_TRUE(j["released_s"].is_null());
  EXPECT_TRUE(j["end_reason"].is_null());
  EXPECT_EQ(j["readings"]["co_ppm"]["value"], 12);
  for (const auto* key : {"u", "rate_per_min", "rate_bound_per_min", "remaining", "peak", "lag_s"})
    EXPECT_TRUE(j["readings"]["co_ppm"][key].is_null()) << key;
  EXPECT_TRUE(j["readings"]["o2_pct"]["value"].is_null());
  EXPECT_FALSE(j["readings"].contains("no_ppm"));
}

TEST(jsonl_text, never_writes_a_negative_zero) {
  auto r = closed_reading();
  auto co = reading(-1e-12, 0.5e-6);
  co.rate = -1e-15;
  co.rate_bound = 1e-8;
  r.channels.set(channel::co, co);
  EXPECT_THAT(line_of(r, usual()),
              HasSubstr("\"co_ppm\":{\"value\":0,\"u\":1,\"rate_per_min\":0,"));
}

TEST(jsonl_text, derives_what_the_table_of_figures_lists) {
  const auto derived = json::parse(line_of(closed_reading(), usual()))["derived"];
  // 100 x 5/(20.9 - 5): definition with air O2 20.9 % (US practice), by hand.
  EXPECT_NEAR(derived["excess_air_pct"]["value"].get<double>(), 31.447, 0.001);
  EXPECT_NEAR(derived["net_stack_temp_degF"]["value"].get<double>(), 403.2, 0.05);
  EXPECT_TRUE(derived["excess_air_pct"]["formula"].is_string());
  EXPECT_FALSE(derived.contains("o2_pct")) << "O2 was measured";
  EXPECT_TRUE(derived["draft_difference_Pa"]["value"].is_null());
  EXPECT_EQ(derived["draft_difference_Pa"]["reason"], "draft_absent");
}

TEST(jsonl_text, tells_a_swing_with_period_and_amplitude) {
  auto r = closed_reading();
  r.creeping = true;
  oscillation swing{.period = 44.96, .amplitude = {}};
  swing.amplitude.set(channel::o2, 0.004);
  r.hunting = swing;
  const auto j = json::parse(line_of(r, usual()));
  EXPECT_EQ(j["flags"], (json{"creeping", "hunting"}));
  EXPECT_EQ(j["oscillation"]["period_s"], 45);
  EXPECT_EQ(j["oscillation"]["amplitude"], (json{{"o2_pct", 0.4}}));
  EXPECT_FALSE(json::parse(line_of(closed_reading(), usual())).contains("oscillation"));
}

TEST(jsonl_text, begins_with_schema_version_file_and_columns) {
  std::string to;
  const auto l = usual_layout();
  jsonl::write_begin(to, "a \"log\"\\\n\xFF.csv", &l);
  const auto j = json::parse(to);
  EXPECT_EQ(j["schema"], 1);
  EXPECT_EQ(j["version"], std::string{version()});
  EXPECT_EQ(j["file"], "a \"log\"\\\xEF\xBF\xBD\xEF\xBF\xBD.csv");
  EXPECT_EQ(j["layout"]["separator"], ",");
  EXPECT_EQ(j["layout"]["columns"][3], (json{{"field", 4}, {"channel", "o2"}, {"unit", "pct"}}));
  to.clear();
  jsonl::write_begin(to, "", nullptr);
  EXPECT_TRUE(json::parse(to)["file"].is_null());
  EXPECT_TRUE(json::parse(to)["layout"].is_null());
}

TEST(jsonl_text, quotes_what_could_not_be_read) {
  const rejection r{.line = 26, .what = fault::bad_number, .field = 3, .seen = "4\x01\xC3\xA9\xC3"};
  const auto j = json::parse(line_of(r));
  EXPECT_EQ(j["line"], 26);
  EXPECT_EQ(j["fault"], "bad_number");
  EXPECT_EQ(j["field"], 3);
  EXPECT_EQ(j["seen"], "4\xEF\xBF\xBD\xC3\xA9\xEF\xBF\xBD");
}

// --- the summary ---------------------------------------------------------------------------

log_summary with_frames(int n) {
  log_summary s;
  for (int i = 1; i <= n; ++i) s.add(frame_at(at(i), static_cast<std::uint64_t>(i)));
  return s;
}

TEST(log_summary, counts_a_line_once_whatever_is_said_of_it) {
  log_summary s;
  s.add(rejection{.line = 2, .what = fault::bad_number, .field = 2});
  s.add(rejection{.line = 2, .what = fault::bad_number, .field = 3});
  s.add(frame_at(at(0), 2));
  s.add(rejection{.line = 3, .what = fault::bad_time, .field = 1});
  s.add(frame_at(at(1), 4));
  s.add(frame_at(at(2), 0));  // held over
  EXPECT_EQ(s.rows, 3U);
  EXPECT_EQ(s.frames, 2U);
  EXPECT_EQ(s.rejections(), 3U);
  const auto j = json::parse(line_of(s, usual()));
  EXPECT_EQ(j["rejected"], (json{{"bad_number", 2}, {"bad_time", 1}}));
}

TEST(log_summary, comes_to_one_of_five_outcomes) {
  EXPECT_EQ(log_summary{}.came_to(), outcome::no_data);
  auto s = with_frames(3);
  EXPECT_EQ(s.came_to(), outcome::idle);
  s.fire_asked_for = false;
  EXPECT_EQ(s.came_to(), outcome::never_settled);
  s.fire_asked_for = true;
  s.add(burn{at(0), at(10), {}, {}});
  burn second{at(20), at(30), {}, {}};
  second.peak.set(channel::stack_temp, 434.65);
  second.last.set(channel::o2, 0.047);
  s.add(second);
  EXPECT_EQ(s.came_to(), outcome::never_settled);
  s.add(burn{at(40), std::nullopt, {}, {}});
  EXPECT_EQ(s.came_to(), outcome::cycling);
  auto open = closed_reading();
  open.to.reset();
  s.add(open);
  s.add(closed_reading());
  EXPECT_EQ(s.plateaus, 1U);
  EXPECT_EQ(s.came_to(), outcome::settled);
  const auto j = json::parse(line_of(s, usual()));
  EXPECT_EQ(j["outcome"], "settled");
  EXPECT_EQ(j["burns"][1], (json{{"from_s", 20},
                                 {"to_s", 30},
                                 {"peak", {{"stack_temp_degF", 322.7}}},
                                 {"last", {{"o2_pct", 4.7}}}}));
  EXPECT_EQ(j["burns"][2], (json{{"from_s", 40},
                                 {"to_s", nullptr},
                                 {"peak", json::object()},
                                 {"last", json::object()}}))
      << "unknown is not zero";
}

TEST(log_summary, says_each_assumption_once_with_line_and_field) {
  log_summary s;
  const assumption a{.line = 1, .what = assumed::column_ignored, .field = 5, .seen = "soot"};
  s.add(a);
  s.add(a);
  ASSERT_EQ(s.assumptions.size(), 1U);
  EXPECT_EQ(s.assumptions[0],
            "column_ignored: column 'soot' is no channel and was left out (line 1, field 5)");
  s.add(assumption{.line = 2, .what = assumed::utc});
  EXPECT_EQ(s.assumptions[1], "utc: times without an offset were read as UTC (line 2)");
}

TEST(log_summary, questions_a_draft_that_never_pulls) {
  const auto said = [](double stack, double draft, int rows, double last) {
    log_summary s;
    frame f;
    f.indication.set(channel::stack_temp, stack);
    for (int i = 0; i < rows; ++i) {
      f.line = static_cast<std::uint64_t>(i) + 2;
      f.indication.set(channel::draft_breech, i + 1 == rows ? last : draft);
      s.add(f);
    }
    return s.questions_and_assumptions();
  };
  const auto asked = said(480, 10, 12, 10);
  ASSERT_EQ(asked.size(), 1U);
  EXPECT_TRUE(asked[0].starts_with("draft_sign: ")) << asked[0];
  EXPECT_NE(asked[0].find("in 12 rows"), std::string::npos) << asked[0];
  EXPECT_TRUE(said(480, -10, 12, -10).empty());
  EXPECT_TRUE(said(480, 10, 12, -1).empty()) << "it pulled once";
  EXPECT_TRUE(said(295, 10, 12, 10).empty()) << "a cold flue need not pull";
  EXPECT_TRUE(said(480, 0, 12, 0).empty()) << "zeroed";
  EXPECT_TRUE(said(480, 10, 9, 10).empty()) << "too few to say";
}

TEST(rejection_text, shows_the_beginning_of_a_long_line) {
  const std::string line = std::string(71, 'x') + "\xC3\xA9" + std::string(4000, 'y');
  std::string to;
  write(to, rejection{.line = 1, .what = fault::no_layout, .seen = line});
  EXPECT_TRUE(to.starts_with("line 1, '" + std::string(71, 'x') + "...': ")) << to;
  to.clear();
  write(to, rejection{
                .line = 1, .what = fault::no_layout, .seen = std::string_view{line}.substr(0, 71)});
  EXPECT_TRUE(to.starts_with("line 1, '" + std::string(71, 'x') + "': ")) << to;
  to.clear();
  write(to, rejection{.line = 1, .what = fault::no_layout, .seen = std::string(200, '\x80')});
  EXPECT_LT(to.size(), 600U);
}

TEST(rejection_text, names_line_field_and_remedy) {
  std::string to;
  write(to, rejection{.line = 26, .what = fault::bad_number, .field = 3, .seen = "abc"});
  EXPECT_EQ(to,
            "line 26, field 3, 'abc': this is no number; leave the cell empty where there is no "
            "value\n");
  for (std::size_t i = 0; i < fault_count; ++i) {
    to.clear();
    write(to, rejection{.line = 1, .what = static_cast<fault>(i)});
    EXPECT_THAT(to, HasSubstr("; ")) << name_of(static_cast<fault>(i));
  }
}

// --- CSV -----------------------------------------------------------------------------------

std::vector<std::string> cells_of(std::string_view line) {
  std::vector<std::string> cells{""};
  bool quoted = false;
  for (const char c : line) {
    if (c == '"') quoted = !quoted;
    else if (c == ',' && !quoted) cells.emplace_back();
    else if (c != '\n') cells.back() += c;
  }
  return cells;
}

TEST(csv_text, has_as_many_cells_as_columns) {
  std::string head, row, open_row;
  csv::write_header(head, usual());
  csv::write(row, "a,b.csv", closed_reading(), usual());
  csv::write(open_row, "", settled_reading{}, usual());
  const auto names = cells_of(head);
  EXPECT_EQ(cells_of(row).size(), names.size());
  EXPECT_EQ(cells_of(open_row).size(), names.size());
  EXPECT_EQ(cells_of(row)[0], "a,b.csv");
  const auto o2 = std::find(names.begin(), names.end(), "o2_pct") - names.begin();
  EXPECT_EQ(cells_of(row)[static_cast<std::size_t>(o2)], "5");
  EXPECT_EQ(cells_of(open_row)[static_cast<std::size_t>(o2)], "");
}

TEST(csv_text, shows_a_frame_with_its_marks_and_an_empty_cell_for_no_value) {
  frame f = frame_at(at(1, 500'000'000), 3);
  f.indication.set(channel::stack_temp, temperature::from_fahrenheit(450).in_kelvins());
  f.add_mark(channel::stack_temp, quality::outlier);
  f.add_mark(channel::stack_temp, quality::stuck);
  f.add_mark(channel::co, quality::over_range);
  std::string to;
  csv::write(to, f, usual());
  EXPECT_EQ(to, "1.5,3,450,,,,stack_temp:outlier+stuck co:over_range\n");
}

// --- for a person --------------------------------------------------------------------------

std::string table_of(const std::vector<settled_reading>& readings) {
  std::string to;
  plain::write_table(to, readings, usual());
  return to;
}

TEST(plain_text, puts_value_and_uncertainty_as_far_as_anyone_can_read) {
  const auto text = table_of({closed_reading()});
  EXPECT_THAT(text, HasSubstr("471.2 ± 0.8\n"));
  EXPECT_THAT(text, HasSubstr("+0.6, under 1.9\n"));
  EXPECT_THAT(text, HasSubstr("9:00–15:05\n"));
  EXPECT_THAT(text, Not(HasSubstr("no_")));
}

TEST(plain_text, rounds_uncertainty_up) {
  auto r = closed_reading();
  const auto with = [&](double u) {
    r.channels.set(channel::co, reading(12.34e-6, u / 2 * 1e-6));
    const auto text = table_of({r});
    const auto from = text.find("12.", text.find("CO, ppm"));
    return text.substr(from, text.find('\n', from) - from);
  };
  EXPECT_EQ(with(0.801), "12.3 ± 0.9");
  EXPECT_EQ(with(0.8), "12.3 ± 0.8");
  EXPECT_EQ(with(0.121), "12.34 ± 0.13");
  EXPECT_EQ(with(0.0995), "12.34 ± 0.10");
}

TEST(plain_text, never_calls_an_unknown_uncertainty_nothing) {
  auto r = closed_reading();
  r.channels.set(channel::co, reading(12e-6, 0));
  EXPECT_THAT(table_of({r}), HasSubstr("12 ± ?\n"));
}

TEST(plain_text, says_why_a_figure_is_missing) {
  auto r = closed_reading();
  r.channels.clear(channel::ambient_temp);
  EXPECT_THAT(table_of({r}),
              HasSubstr("No net stack temperature: no combustion air temperature was read"));
}

TEST(plain_text, stays_within_eighty_columns_for_three_readings) {
  const auto r = closed_reading();
  const auto text = table_of({r, r, r, r});
  std::size_t width = 0;
  for (const char c : text) {
    if (c == '\n') width = 0;
    else if ((static_cast<unsigned char>(c) & 0xC0U) != 0x80) ++width;
    EXPECT_LE(width, 80U);
  }
  EXPECT_THAT(text, HasSubstr("settled reading                            1"));
  EXPECT_THAT(text, HasSubstr("settled reading                            4"));
}

TEST(plain_text, tells_the_course_in_sentences) {
  std::string to;
  plain::write(to, phase_change{.at = at(99),
                                .line = 101,
                                .from = phase::idle,
                                .to = phase::appliance_warm_up,
                                .why = cause::fire_seen,
                                .which = {}});
  plain::write(to, phase_change{.at = at(642),
                                .line = 645,
                                .from = phase::settling,
                                .to = phase::steady,
                                .why = cause::within_limits,
                                .which = {}});
  auto open = closed_reading();
  open.to.reset();
  plain::write(to, open, usual());
  plain::write(to, closed_reading(), usual());
  plain::write(to, phase_change{.at = at(911),
                                .line = 912,
                                .from = phase::steady,
                                .to = phase::disturbed,
                                .why = cause::departed,
                                .which = channel::o2});
  plain::write(to, phase_change{.at = at(920),
                                .line = 921,
                                .from = phase::disturbed,
                                .to = phase::disturbed,
                                .why = cause::diluted,
                                .which = {}});
  plain::write(to, note{.line = 1, .at = at(3725), .text = "adjusted air\x1b[2J"});
  EXPECT_EQ(to,
            "     1:39  fire; the appliance warms up\n"
            "    10:00  settled: stack temperature 471.2 ± 0.8 °F, O2 5.00 ± 0.05 %, "
            "CO 12.0 ± 1.0 ppm\n"
            "    15:11  no longer settled: O2 left its level\n"
            "    15:20  room air got into the sample; did the probe slip?\n"
            "  1:02:05  # adjusted air\xEF\xBF\xBD[2J\n");
  to.clear();
  plain::write(to, note{.line = 1,
                        .at = at(5),
                        .text = "\xC2\x9B"
                                "2J 5 \xC2\xB0"});
  EXPECT_NE(to.find("\xEF\xBF\xBD"
                    "2J 5 \xC2\xB0\n"),
            std::string::npos)
      << "the second set of control letters steers a terminal too";
}

TEST(plain_text, tells_time_of_day_where_the_log_has_dates) {
  std::string to;
  plain::write(to, note{.line = 1, .at = at(1'700'000'000), .text = "x"});
  EXPECT_EQ(to, " 22:13:20  # x\n") << "2023-11-14T22:13:20Z";
  to.clear();
  plain::write(to, note{.line = 1, .at = at(-5), .text = "x"});
  EXPECT_EQ(to, "    -0:05  # x\n");
}

TEST(plain_text, ends_with_why_nothing_settled_and_what_was_assumed) {
  auto s = with_frames(2);
  s.assumptions = {"fuel: the fuel is No. 2 oil (no2_oil); --fuel names another",
                   "utc: read as UTC"};
  std::string to;
  plain::write(to, s, usual());
  EXPECT_THAT(to, HasSubstr("no fire was seen"));
  EXPECT_THAT(to, HasSubstr("Assumed: read as UTC.\n"));
  EXPECT_THAT(to, Not(HasSubstr("No. 2 oil"))) << "no figure was derived";
  for (int i = 0; i < 3; ++i) {
    burn b{at(100 * i), at(100 * i + 75), {}, {}};
    b.peak.set(channel::stack_temp, 434.65 + i / 1.8);
    b.last.set(channel::o2, 0.05);
    s.add(b);
  }
  to.clear();
  plain::write(to, s, usual());
  EXPECT_THAT(to, HasSubstr("3 burns, the longest 1 min 15 s"));
  EXPECT_THAT(to, HasSubstr("Peak of stack temperature: 322.7 to 324.7 °F.\n"
                            "At the end of a burn, O2: 5 %.\n"));
  EXPECT_THAT(to, Not(HasSubstr("Peak of CO"))) << "none was seen";
}

TEST(plain_text, puts_cautions_last) {
  std::string to;
  plain::write_cautions(to, true, presentation{});
  for (const auto* words : {"CO poisons", "k = 2", "maker's instructions", "local codes"})
    EXPECT_THAT(to, HasSubstr(words));
  to.clear();
  plain::write_cautions(to, false, presentation{});
  EXPECT_THAT(to, HasSubstr("CO poisons"));
  EXPECT_THAT(to, Not(HasSubstr("±")));
}

}  // namespace
}  // namespace stilling
