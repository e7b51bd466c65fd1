// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#include "stilling/decoding/header.hpp"

#include <gtest/gtest.h>

#include <string>
#include <vector>

namespace stilling {
namespace {

std::optional<header> read(std::string_view line, const decoder_settings& s = {}) {
  return read_header(line, s);
}
std::vector<assumption> said(std::string_view line, char separator = ',') {
  std::vector<assumption> out;
  static_cast<void>(
      read_header(line, separator, {}, [&](const assumption& a) { out.push_back(a); }));
  return out;
}

TEST(header, takes_any_order_and_any_subset) {
  const auto h = read("o2_pct,co_ppm,time_s,stack_temp_degF");
  ASSERT_TRUE(h);
  EXPECT_EQ(h->found.count, 3);
  EXPECT_EQ(h->found.time.field, 2);
  EXPECT_EQ(h->found.fields, 4);
  EXPECT_EQ(h->found.find(channel::stack_temp)->field, 3);
  EXPECT_TRUE(h->unitless.empty());
}

TEST(header, finds_the_separator) {
  EXPECT_EQ(read("time_s;o2_pct;co_ppm")->found.separator, ';');
  EXPECT_EQ(read("time_s\to2_pct\tco_ppm")->found.separator, '\t');
  EXPECT_EQ(read("time_s  o2_pct  co_ppm")->found.separator, ' ');
  EXPECT_EQ(read("time [s],stack temp [F]")->found.separator, ',');
  EXPECT_FALSE(read("time_s;o2_pct", {.separator = ','})) << "the caller knows better";
}

TEST(header, is_not_seen_where_there_is_none) {
  for (auto s : {"", "0,412.5,68.2", "boot: second stage", "time_s", "stack_temp_degF,o2_pct",
                 "time to look at the o2 cell", "a,b,c", "----,----"})
    EXPECT_FALSE(read(s).has_value()) << s;
  EXPECT_TRUE(read("stack_temp_degF,o2_pct", {.interval = seconds(1)})) << "time is told";
}

TEST(header, counts_no_column_behind_a_trailing_separator) {
  EXPECT_EQ(read("time_s,o2_pct,")->found.fields, 2);
}

TEST(header, reports_what_it_does_not_use) {
  const auto a = said("time_s,water_degF,o2_pct,oxygen [%]");
  ASSERT_EQ(a.size(), 2U);
  EXPECT_EQ(a[0].what, assumed::column_ignored);
  EXPECT_EQ(a[0].field, 2);
  EXPECT_EQ(a[1].what, assumed::column_doubled);
  EXPECT_EQ(a[1].seen, "oxygen [%]");
  const auto p = said("time [s],O2 [%]");
  ASSERT_FALSE(p.empty());
  EXPECT_EQ(p[0].what, assumed::column_proposed);
  EXPECT_TRUE(said("time_s,-,o2_pct").empty());
}

TEST(header, reports_hundreds_of_columns_in_a_few_words) {
  std::string line = "time_s,o2_pct";
  for (int i = 0; i < 253; ++i) line += ",T" + std::to_string(i);
  std::vector<std::string> taken;
  const auto h =
      read_header(line, ',', {}, [&](const assumption& a) { taken.emplace_back(a.taken); });
  ASSERT_TRUE(h);
  EXPECT_EQ(h->found.fields, 255);
  ASSERT_EQ(taken.size(), 9U);
  EXPECT_EQ(taken.back(), "and 244 others");
}

TEST(header, lets_rules_go_before_names_and_names_before_words) {
  decoder_settings s;
  s.add(*read_column_rule("T7=stack_temp:degC"));
  const auto h = read("time_s,stack_temp_degF,T7,O2 [%],o2_pct", s);
  EXPECT_EQ(h->found.find(channel::stack_temp)->field, 2);
  EXPECT_EQ(h->found.find(channel::o2)->field, 4);
}

TEST(header, joins_date_and_clock_in_either_order) {
  decoder_settings s;
  s.add(*read_column_rule("Date+Clock=time"));
  for (auto line : {"Date,Clock,o2_pct", "Clock,o2_pct,Date"}) {
    const auto t = read(line, s)->found.time;
    EXPECT_NE(t.field, t.second) << line;
    EXPECT_EQ(t.form, clock_form::stamp);
  }
}

TEST(header, passes_over_a_mark_and_stray_bytes) {
  EXPECT_EQ(without_mark("\xEF\xBB\xBFtime"), "time");
  EXPECT_EQ(without_mark(std::string_view{"\0time", 5}), "time");
}

TEST(units_row, fills_in_what_the_names_left_open) {
  auto h = *read("Time,O2,CO,Stack");
  EXPECT_EQ(h.unitless.size(), 3);
  const auto quiet = [](const assumption&) {};
  auto wrong = h;
  EXPECT_FALSE(read_units("s,%,ppm", wrong, quiet)) << "too short";
  EXPECT_FALSE(read_units("s,%,ppm,mol", wrong, quiet));
  EXPECT_FALSE(read_units("0,5.1,21,412", wrong, quiet)) << "a row of readings";
  EXPECT_EQ(wrong, h);
  ASSERT_TRUE(
      read_units("s,mol/mol,ppm,\xB0"
                 "C",
                 h, quiet));
  EXPECT_TRUE(h.unitless.empty());
  EXPECT_EQ(h.found.unit_of(channel::o2), unit::fraction);
  EXPECT_EQ(h.found.unit_of(channel::stack_temp), unit::celsius);
  EXPECT_EQ(h.found.time.form, clock_form::number);
}

}  // namespace
}  // namespace stilling
