// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT

// Law 5: the same measurements in other units give the same readings, within rounding.

#include <gtest/gtest.h>

#include <cmath>
#include <string>

#include "support/invented_log.hpp"
#include "support/transcript.hpp"

namespace stilling {
namespace {

struct column_unit {
  std::string_view name;
  double (*from_shown)(double);  // from the canonical form's unit
};

std::string log_in(const std::array<column_unit, 5>& columns, std::string_view time_name,
                   double seconds_per_unit) {
  invented::log_options options{.mishaps = false, .clock_break = false};
  invented::plant flue{options};
  std::string log{time_name};
  for (const auto& column : columns) log.append(",").append(column.name);
  log += "\n";
  while (const auto row = flue.next()) {
    log += invented::written(in_seconds(row->at.time_since_epoch()) / seconds_per_unit);
    for (std::size_t i = 0; i < columns.size(); ++i) {
      log += ",";
      const double shown = static_cast<double>(*row->cells[i]) * invented::display_steps[i];
      // So many places in every unit that none of them says how coarse the display was.
      char text[40];
      std::snprintf(text, sizeof text, "%.12f", columns[i].from_shown(shown));
      log += text;
    }
    log += "\n";
  }
  return log;
}

double as_is(double x) { return x; }
double to_celsius(double f) { return (f - 32) / 1.8; }
double to_kelvins(double f) { return (f + 459.67) / 1.8; }
double percent_to_fraction(double x) { return x / 100; }
double percent_to_ppm(double x) { return x * 1e4; }
double ppm_to_percent(double x) { return x / 1e4; }
double ppm_to_fraction(double x) { return x / 1e6; }
double inches_to_pascals(double x) { return x * 249.08891; }
double inches_to_millibars(double x) { return x * 2.4908891; }
double inches_to_millimetres(double x) { return x * 25.4; }

void expect_near(double found, double wanted, double scale) {
  EXPECT_NEAR(found, wanted, 1e-8 * std::abs(scale));
}

void expect_same(const transcript& found, const transcript& wanted) {
  ASSERT_EQ(found.readings.size(), wanted.readings.size());
  ASSERT_EQ(found.phases, wanted.phases);
  for (std::size_t i = 0; i < wanted.readings.size(); ++i) {
    const auto& a = found.readings[i];
    const auto& b = wanted.readings[i];
    EXPECT_EQ(a.declared, b.declared);
    EXPECT_EQ(a.from, b.from);
    EXPECT_EQ(a.to, b.to);
    EXPECT_EQ(a.ended, b.ended);
    ASSERT_EQ(a.channels.valid, b.channels.valid);
    for (const channel c : all_channels) {
      if (!a.channels.has(c)) continue;
      SCOPED_TRACE(traits_of(c).name);
      const auto& x = a.channels[c];
      const auto& y = b.channels[c];
      expect_near(x.mean, y.mean, y.mean);
      expect_near(x.standard_uncertainty, y.standard_uncertainty, y.mean);
      expect_near(x.rate_bound.value_or(0), y.rate_bound.value_or(0), y.mean);
      expect_near(x.step, y.step, y.mean);
      EXPECT_EQ(x.count, y.count);
      EXPECT_EQ(x.set_aside, y.set_aside);
    }
  }
}

TEST(units, change_nothing_but_rounding) {
  const auto trade = heard_from(log_in({{{"stack_temp_degF", as_is},
                                         {"ambient_temp_degF", as_is},
                                         {"o2_pct", as_is},
                                         {"co_ppm", as_is},
                                         {"draft_overfire_inH2O", as_is}}},
                                       "time_s", 1));
  ASSERT_GE(trade.readings.size(), 4U);
  expect_same(heard_from(log_in({{{"stack_temp_degC", to_celsius},
                                  {"ambient_temp_K", to_kelvins},
                                  {"o2_fraction", percent_to_fraction},
                                  {"co_pct", ppm_to_percent},
                                  {"draft_overfire_Pa", inches_to_pascals}}},
                                "time_ms", 1e-3)),
              trade);
  expect_same(heard_from(log_in({{{"stack_temp_K", to_kelvins},
                                  {"ambient_temp_degC", to_celsius},
                                  {"o2_ppm", percent_to_ppm},
                                  {"co_fraction", ppm_to_fraction},
                                  {"draft_overfire_mbar", inches_to_millibars}}},
                                "time_s", 1)),
              trade);
  expect_same(heard_from(log_in({{{"stack_temp_[degF]", as_is},
                                  {"ambient_temp_Cel", to_celsius},
                                  {"o2_%", as_is},
                                  {"co_[ppm]", as_is},
                                  {"draft_overfire_mmH2O", inches_to_millimetres}}},
                                "time_s", 1)),
              trade);
}

}  // namespace
}  // namespace stilling
