// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT

// The inputs of tests/cases, each with what a right reading of it is, and their next of kin.

#include <gtest/gtest.h>

#include <algorithm>
#include <clocale>
#include <cmath>
#include <numeric>
#include <string>

#include "support/input_chain.hpp"

namespace stilling {
namespace {

using testing::case_bytes;
using testing::heard;
using testing::listen;

const char* const canonical =
    "time_s,stack_temp_degF,ambient_temp_degF,o2_pct,co_ppm,draft_breech_inH2O,draft_overfire_"
    "inH2O";

double mean(const std::vector<double>& xs) {
  return std::accumulate(xs.begin(), xs.end(), 0.0) / static_cast<double>(xs.size());
}

/// Slope by least squares over all frames, per minute.
double slope_per_minute(const heard& h, channel c, unit as) {
  const auto t = h.seconds();
  const auto x = h.values(c, as);
  const double mt = mean(t);
  const double mx = mean(x);
  double stx = 0;
  double stt = 0;
  for (std::size_t i = 0; i < t.size(); ++i) {
    stx += (t[i] - mt) * (x[i] - mx);
    stt += (t[i] - mt) * (t[i] - mt);
  }
  return 60 * stx / stt;
}

std::string replaced(std::string s, std::string_view what, std::string_view with) {
  for (std::size_t at = 0; (at = s.find(what, at)) != std::string::npos; at += with.size())
    s.replace(at, what.size(), with);
  return s;
}

TEST(case_026, drops_both_fragments_and_reads_the_twelve_rows) {
  const auto h = listen(case_bytes("026-joined-mid-stream.txt"), {.fields = canonical});
  ASSERT_EQ(h.frames.size(), 12U);
  EXPECT_EQ(h.seconds().front(), 10);
  EXPECT_EQ(h.seconds().back(), 120);
  EXPECT_EQ(h.count(fault::incomplete), 2U);
  EXPECT_EQ(h.rejections.size(), 2U);
  for (double t : h.values(channel::stack_temp, unit::fahrenheit)) EXPECT_GT(t, 400);
}

TEST(case_027, reads_two_sessions_around_the_garbage) {
  const auto h = listen(case_bytes("027-reboot-garbage.bin"));
  EXPECT_EQ(h.frames.size(), 20U);
  ASSERT_EQ(h.breaks.size(), 1U);
  EXPECT_EQ(h.breaks[0].frames_before, 10U);
  EXPECT_EQ(h.breaks[0].kind, break_kind::clock_back);
  ASSERT_EQ(h.rejections.size(), 3U);
  EXPECT_EQ(h.rejections[0].line, 12U);
  EXPECT_EQ(h.rejections[2].line, 14U);
  EXPECT_EQ(h.layouts.size(), 1U) << "the same header again means nothing";
  for (std::size_t piece : {1U, 2U, 7U, 64U})
    EXPECT_EQ(listen(case_bytes("027-reboot-garbage.bin"), {}, {}, piece), h) << piece;
}

TEST(case_028, takes_any_line_end) {
  for (const auto* name : {"028a-cr-only.bin", "028b-newline-before-record.bin"}) {
    const auto h = listen(case_bytes(name));
    EXPECT_EQ(h.frames.size(), 12U) << name;
    EXPECT_TRUE(h.rejections.empty()) << name;
    EXPECT_EQ(h.values(channel::draft_overfire, unit::inch_of_water).size(), 12U) << name;
  }
}

TEST(case_029, passes_over_what_a_power_cut_leaves) {
  const auto h = listen(case_bytes("029-nul-padding.bin"));
  ASSERT_EQ(h.frames.size(), 20U);
  EXPECT_TRUE(h.rejections.empty());
  EXPECT_TRUE(h.says(assumed::padding));
  EXPECT_EQ(h.seconds()[10], 100);
  EXPECT_NEAR(h.values(channel::stack_temp, unit::fahrenheit)[10], 412.5, 1e-9);
}

void expect_european(const heard& h) {
  ASSERT_EQ(h.frames.size(), 10U);
  EXPECT_TRUE(h.rejections.empty());
  const auto stack = h.values(channel::stack_temp, unit::fahrenheit);
  const auto co = h.values(channel::co, unit::ppm);
  const double want[]{21, 999.5, 1000, 1234.5, 987, 21, 20.5, 21, 21.5, 22};
  for (std::size_t i = 0; i < 10; ++i) {
    EXPECT_NEAR(stack[i], 412.3 + 0.1 * static_cast<double>(i), 1e-9);
    EXPECT_NEAR(co[i], want[i], 1e-9);
  }
  EXPECT_NEAR(h.values(channel::o2, unit::percent)[0], 5.1, 1e-12);
  EXPECT_NEAR(h.values(channel::draft_breech, unit::inch_of_water)[0], -0.04, 1e-12);
  EXPECT_TRUE(h.says(assumed::decimal_comma));
}

TEST(case_030, reads_decimal_commas_between_semicolons_tabs_and_blanks) {
  const auto bytes = case_bytes("030-european.csv");
  expect_european(listen(bytes));
  expect_european(listen(replaced(bytes, ";", "\t")));
  expect_european(listen(replaced(bytes, ";", "   ")));
  expect_european(listen(replaced(replaced(bytes, "412,3;", "\"412,3\";"), ";", " ; ")));
}

TEST(case_030, reads_the_other_pair_as_well) {
  auto bytes = replaced(case_bytes("030-european.csv"), ",", "_");
  bytes = replaced(replaced(bytes, ".", ","), "_", ".");
  // Underscores of the header are points now; give it back.
  bytes = std::string{replaced(canonical, ",", ";")} + bytes.substr(bytes.find('\r'));
  const auto h = listen(bytes);
  ASSERT_EQ(h.frames.size(), 10U);
  EXPECT_NEAR(h.values(channel::co, unit::ppm)[3], 1234.5, 1e-9);
  EXPECT_FALSE(h.says(assumed::decimal_comma));
}

TEST(case_030, refuses_a_comma_that_could_be_both) {
  const auto h =
      listen("time_s;stack_temp_degF;co_ppm\n0;1,234;21\n1;412,3;1.234\n2;412,3;1,234\n");
  ASSERT_EQ(h.frames.size(), 3U);
  EXPECT_FALSE(h.frames[0].indication.has(channel::stack_temp));
  ASSERT_EQ(h.rejections.size(), 1U);
  EXPECT_EQ(h.rejections[0].what, fault::ambiguous_number);
  EXPECT_EQ(h.rejections[0].field, 2U);
  EXPECT_EQ(h.rejections[0].seen, "1,234");
  const auto co = h.values(channel::co, unit::ppm);
  EXPECT_NEAR(co[1], 1234, 1e-9) << "the log has shown its comma by then";
  EXPECT_NEAR(co[2], 1.234, 1e-12);
  const auto told = listen("time_s;stack_temp_degF\n0;1,234\n", {.decimal_sign = ','});
  EXPECT_NEAR(told.values(channel::stack_temp, unit::fahrenheit)[0], 1.234, 1e-9);
  EXPECT_EQ(listen("time_s,o2_pct,co_ppm\n0,5,1,21\n").count(fault::too_many_fields), 1U)
      << "decimal commas between commas";
}

TEST(case_032, keeps_no_value_over_range_and_zero_apart) {
  const auto h = listen(case_bytes("032-markers.csv"));
  EXPECT_EQ(h.frames.size(), 15U);
  EXPECT_TRUE(h.rejections.empty()) << "a marker is no fault";
  const auto stack = h.values(channel::stack_temp, unit::fahrenheit);
  const auto o2 = h.values(channel::o2, unit::percent);
  const auto co = h.values(channel::co, unit::ppm);
  EXPECT_EQ(stack.size(), 10U);
  EXPECT_NEAR(mean(stack), 412.24, 0.005);
  EXPECT_EQ(o2.size(), 12U);
  EXPECT_NEAR(mean(o2), 5.117, 0.0005);
  EXPECT_EQ(co.size(), 11U);
  EXPECT_NEAR(mean(co), 19.36, 0.005);
  EXPECT_EQ(std::count(co.begin(), co.end(), 0.0), 1);
  int co_over = 0;
  int o2_over = 0;
  for (const auto& f : h.frames) {
    co_over += has(f.mark(channel::co), quality::over_range) ? 1 : 0;
    o2_over += has(f.mark(channel::o2), quality::over_range) ? 1 : 0;
  }
  EXPECT_EQ(co_over, 2);
  EXPECT_EQ(o2_over, 1);
  ASSERT_TRUE(h.says(assumed::bound));
  EXPECT_EQ(h.assumptions[0].seen, ">2000");
}

TEST(case_034, reads_the_same_rows_from_three_encodings) {
  const auto bom = listen(case_bytes("034a-utf8-bom.csv"));
  const auto wide = listen(case_bytes("034b-utf16le.csv"));
  const auto latin = listen(case_bytes("034c-latin1-degree.csv"));
  EXPECT_EQ(bom.frames.size(), 8U);
  EXPECT_EQ(wide.frames, bom.frames);
  EXPECT_EQ(latin.frames, bom.frames);
  ASSERT_EQ(latin.layouts.size(), 1U);
  EXPECT_EQ(latin.layouts[0].unit_of(channel::stack_temp), unit::fahrenheit);
  EXPECT_EQ(latin.layouts[0].unit_of(channel::o2), unit::percent);
  EXPECT_EQ(latin.layouts[0].unit_of(channel::draft_overfire), unit::inch_of_water);
  EXPECT_TRUE(latin.says(assumed::column_proposed)) << "proposed, not silently taken";
  std::string big;  // the same in the other order of bytes
  const auto little = case_bytes("034b-utf16le.csv");
  for (std::size_t i = 0; i + 1 < little.size(); i += 2) big += {little[i + 1], little[i]};
  EXPECT_EQ(listen(big).frames, bom.frames);
}

TEST(case_035, takes_twelve_at_night_for_midnight) {
  for (const decoder_settings& s :
       {decoder_settings{}, decoder_settings{.time_format = "%Y-%m-%d %I:%M:%S %p"}}) {
    const auto h = listen(case_bytes("035-twelve-hour-clock.csv"), s);
    ASSERT_EQ(h.frames.size(), 12U);
    EXPECT_TRUE(h.breaks.empty());
    const auto t = h.seconds();
    for (std::size_t i = 1; i < 12; ++i) EXPECT_EQ(t[i] - t[i - 1], i == 6 ? 43'150 : 10) << i;
  }
  EXPECT_EQ(listen("time,o2_pct\n2026-03-07 13:00 PM,5\n").count(fault::bad_time), 1U);
  EXPECT_EQ(listen("time,o2_pct\n2026-03-07 0:30 AM,5\n").count(fault::bad_time), 1U);
}

TEST(case_036, goes_over_new_year_without_a_year) {
  const auto h = listen(case_bytes("036-no-year.csv"));
  ASSERT_EQ(h.frames.size(), 6U);
  const auto t = h.seconds();
  for (std::size_t i = 1; i < 6; ++i) EXPECT_EQ(t[i] - t[i - 1], 10);
  EXPECT_TRUE(h.says(assumed::year));
  EXPECT_TRUE(h.breaks.empty());
  const auto told = listen(case_bytes("036-no-year.csv"), {.year = 2025});
  EXPECT_FALSE(told.says(assumed::year));
  EXPECT_EQ(told.seconds()[3], 1'767'225'600) << "2026-01-01 00:00 UTC";
}

/// Clocks in New York, 2026: daylight saving time from 8 March 2:00 to 1 November 2:00. From the
/// Energy Policy Act of 2005, section 110: second Sunday of March, first Sunday of November.
zone_offsets new_york(const void*, std::int64_t wall) noexcept {
  constexpr std::int64_t spring = 1'772'935'200;  // 2026-03-08 02:00
  constexpr std::int64_t autumn = 1'793'498'400;  // 2026-11-01 02:00
  constexpr std::int32_t standard = -5 * 3600;
  constexpr std::int32_t saving = -4 * 3600;
  if (wall >= autumn - 3600 && wall < autumn) return {saving, standard};
  const bool summer = wall >= spring + 3600 && wall < autumn;
  return summer ? zone_offsets{saving, saving} : zone_offsets{standard, standard};
}

TEST(case_037, reads_the_repeated_hour_where_the_zone_is_told) {
  const auto h = listen(case_bytes("037-dst-fold.csv"), {.zone_offsets_at = &new_york});
  ASSERT_EQ(h.frames.size(), 24U);
  const auto t = h.seconds();
  for (std::size_t i = 1; i < 24; ++i) EXPECT_EQ(t[i] - t[i - 1], 30) << i;
  EXPECT_TRUE(h.breaks.empty());
  EXPECT_NEAR(slope_per_minute(h, channel::stack_temp, unit::fahrenheit), 1.0, 1e-6);
  EXPECT_TRUE(h.says(assumed::fold));
  EXPECT_FALSE(h.says(assumed::utc));
}

TEST(case_037, breaks_where_it_is_not_and_sorts_nothing) {
  const auto h = listen(case_bytes("037-dst-fold.csv"));
  ASSERT_EQ(h.frames.size(), 24U);
  ASSERT_EQ(h.breaks.size(), 1U);
  EXPECT_EQ(h.breaks[0].kind, break_kind::clock_back);
  const auto t = h.seconds();
  EXPECT_EQ(t[h.breaks[0].frames_before] - t[h.breaks[0].frames_before - 1], -3570);
  for (std::size_t i = 1; i < 24; ++i) EXPECT_EQ(h.frames[i].line, h.frames[i - 1].line + 1);
}

TEST(case_037, reads_the_skipped_hour_where_the_zone_is_told) {
  const std::string log = "time,o2_pct\n2026-03-08 01:59:30,5\n2026-03-08 03:00:00,5\n";
  const auto told = listen(log, {.zone_offsets_at = &new_york});
  EXPECT_EQ(told.seconds()[1] - told.seconds()[0], 30);
}

TEST(case_038, parts_the_log_where_the_clock_was_set) {
  const auto h = listen(case_bytes("038-clock-reset.csv"));
  ASSERT_EQ(h.frames.size(), 18U);
  ASSERT_EQ(h.breaks.size(), 1U);
  EXPECT_EQ(h.breaks[0].kind, break_kind::clock_jump);
  EXPECT_EQ(h.breaks[0].frames_before, 6U);
}

TEST(case_040, keeps_rows_that_share_a_stamp_and_spreads_them) {
  const auto h = listen(case_bytes("040-minute-stamps.csv"));
  ASSERT_EQ(h.frames.size(), 180U);
  EXPECT_TRUE(h.rejections.empty());
  EXPECT_TRUE(h.breaks.empty());
  EXPECT_TRUE(h.says(assumed::spacing));
  const auto t = h.seconds();
  for (std::size_t i = 61; i < 180; ++i) EXPECT_NEAR(t[i] - t[i - 1], 1, 1e-6) << i;
  const auto told = listen(case_bytes("040-minute-stamps.csv"), {}, {.spacing = seconds(1)});
  EXPECT_NEAR(slope_per_minute(told, channel::stack_temp, unit::fahrenheit), 6.0, 1e-6);
}

TEST(case_042, notices_that_the_scale_was_switched) {
  const auto h = listen(case_bytes("042-unit-switch.csv"));
  ASSERT_EQ(h.breaks.size(), 1U);
  EXPECT_EQ(h.breaks[0].kind, break_kind::new_units);
  EXPECT_EQ(h.breaks[0].frames_before, 60U) << "row 61";
  ASSERT_EQ(h.layouts.size(), 2U);
  EXPECT_EQ(h.layouts[1].unit_of(channel::stack_temp), unit::celsius);
  EXPECT_TRUE(h.says(assumed::units_switched));
  const auto t = h.values(channel::stack_temp, unit::fahrenheit);
  EXPECT_NEAR(mean({t.begin(), t.begin() + 60}), 425.0, 0.15);
  EXPECT_NEAR(mean({t.begin() + 60, t.end()}), 425.0, 0.15);
}

TEST(case_042, does_not_take_a_burner_that_stops_for_a_switch) {
  std::string log = "time_s,stack_temp_degF,ambient_temp_degF,o2_pct\n0,425,68,5\n1,425,68,5\n";
  EXPECT_TRUE(listen(log + "2,218,68,5\n").breaks.empty()) << "ambient stands";
  EXPECT_TRUE(listen(log + "2,218.3,20,20.9\n").breaks.empty()) << "O2 moves";
  EXPECT_EQ(listen(log + "2,218.3,20,5\n").breaks.size(), 1U);
}

TEST(case_043, knows_silence_from_no_change_when_told) {
  const auto bytes = case_bytes("043a-change-only.csv");
  EXPECT_EQ(listen(bytes).frames.size(), 27U);
  const auto held = listen(bytes, {}, {.hold = seconds(1)});
  EXPECT_EQ(held.frames.size(), 3601U);
  const auto t = held.seconds();
  for (std::size_t i = 1; i < t.size(); ++i) EXPECT_EQ(t[i] - t[i - 1], 1);
}

TEST(case_043, minds_no_other_spacing) {
  const auto h = listen(case_bytes("043b-rate-change.csv"));
  EXPECT_TRUE(h.breaks.empty());
  EXPECT_NEAR(slope_per_minute(h, channel::stack_temp, unit::fahrenheit), 2.40, 0.02);
}

TEST(case_044, reads_quotes_units_in_cells_and_a_trailing_separator) {
  const auto h = listen(case_bytes("044-messy-cells.csv"));
  ASSERT_EQ(h.frames.size(), 10U);
  EXPECT_TRUE(h.rejections.empty());
  const double o2[]{5.0, 5.1, 5.2};
  for (std::size_t i = 0; i < 10; ++i) {
    const auto value = [&](channel c, unit u) { return h.values(c, u)[i]; };
    EXPECT_NEAR(value(channel::stack_temp, unit::fahrenheit), i % 2 == 0 ? 425 : 426, 1e-9);
    EXPECT_NEAR(value(channel::ambient_temp, unit::fahrenheit), 68.2, 1e-9);
    EXPECT_NEAR(value(channel::o2, unit::percent), o2[i % 3], 1e-12);
    EXPECT_NEAR(value(channel::co, unit::ppm), 21, 1e-9);
    EXPECT_NEAR(value(channel::draft_breech, unit::inch_of_water), -0.04, 1e-12);
    EXPECT_NEAR(value(channel::draft_overfire, unit::inch_of_water), -0.02, 1e-12);
  }
  EXPECT_EQ(h.assumptions.size(), 2U) << "said once, not per row";
}

TEST(case_045, takes_nothing_a_header_and_one_row_for_what_they_are) {
  EXPECT_EQ(listen(case_bytes("045a-empty.csv")), heard{});
  EXPECT_TRUE(listen(case_bytes("045b-header-only.csv")).frames.empty());
  EXPECT_EQ(listen(case_bytes("045b-header-only.csv")).layouts.size(), 1U);
  EXPECT_EQ(listen(case_bytes("045c-one-row.csv")).frames.size(), 1U);
}

TEST(case_046, counts_a_last_row_without_its_line_end) {
  const std::string log = std::string{canonical} +
                          "\n0,415.1,70.0,5.0,20,-0.040,-0.020\n1,414.8,70.0,5.0,20,-0.040,-0.020";
  const auto h = listen(log);
  EXPECT_EQ(h.frames.size(), 2U);
  EXPECT_TRUE(h.rejections.empty());
  EXPECT_TRUE(h.frames[1].indication.has(channel::draft_overfire)) << "all its decimals are there";
  const auto cut = listen(log.substr(0, log.size() - 1));
  EXPECT_EQ(cut.frames.size(), 2U);
  EXPECT_FALSE(cut.frames[1].indication.has(channel::draft_overfire)) << "-0.02 may be -0.020";
  EXPECT_EQ(cut.count(fault::incomplete), 1U);
}

TEST(case_047, goes_on_with_the_header_of_the_file_before) {
  const auto h =
      listen(case_bytes("047a-before-rotation.csv") + case_bytes("047b-after-rotation.csv"));
  ASSERT_EQ(h.frames.size(), 60U);
  for (std::size_t i = 0; i < 60; ++i) EXPECT_EQ(h.seconds()[i], static_cast<double>(i));
  EXPECT_TRUE(h.rejections.empty());
}

TEST(case_049, reads_the_same_in_a_host_with_another_locale) {
  const auto before = listen(case_bytes("049-host-settings.csv"));
  for (const auto* name : {"de_DE.UTF-8", "fr_FR.UTF-8", "C.UTF-8"})
    if (std::setlocale(LC_ALL, name) != nullptr) break;
  const auto h = listen(case_bytes("049-host-settings.csv"));
  std::setlocale(LC_ALL, "C");
  EXPECT_EQ(h, before);
  EXPECT_EQ(h.frames.size(), 61U);
  const auto t = h.values(channel::stack_temp, unit::fahrenheit);
  EXPECT_EQ(t.size(), 55U);
  EXPECT_NEAR(mean(t), 123.45, 0.01);
}

TEST(case_057, turns_draft_round_only_when_told) {
  const std::string log = "time_s,draft_breech_inH2O\n0,0.040\n";
  EXPECT_NEAR(listen(log).values(channel::draft_breech, unit::inch_of_water)[0], 0.04, 1e-12);
  EXPECT_NEAR(
      listen(log, {.suction_positive = true}).values(channel::draft_breech, unit::inch_of_water)[0],
      -0.04, 1e-12);
}

TEST(case_059, reports_an_unknown_column_once_and_shifts_nothing) {
  const auto h = listen("time_s,supply_water_temp_degF,stack_temp_degF\n0,180,165\n1,180,165\n");
  ASSERT_EQ(h.assumptions.size(), 1U);
  EXPECT_EQ(h.assumptions[0], (testing::kept_assumption{1, assumed::column_ignored, 2,
                                                        "supply_water_temp_degF", ""}));
  EXPECT_NEAR(h.values(channel::stack_temp, unit::fahrenheit)[1], 165, 1e-9);
}

}  // namespace
}  // namespace stilling
