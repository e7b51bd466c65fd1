// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#include "stilling/combustion/finding.hpp"

#include <gtest/gtest.h>

#include <type_traits>

#include "stilling/combustion/combustion.hpp"
#include "stilling/terms/units.hpp"

namespace stilling {
namespace {

static_assert(std::is_trivially_copyable_v<finding>);
static_assert(findings{}.empty());

lanes<estimate> good_test() {
  lanes<estimate> in;
  in.set(channel::stack_temp, {temperature::from_fahrenheit(450).in_kelvins(), 0.5});
  in.set(channel::ambient_temp, {temperature::from_fahrenheit(68).in_kelvins(), 0.5});
  in.set(channel::o2, {0.05, 0.001});
  in.set(channel::co, {20e-6, 1e-6});
  in.set(channel::draft_breech, {limits::inches(-0.05), 0.5});
  in.set(channel::draft_overfire, {limits::inches(-0.02), 0.5});
  return in;
}

findings judged(channel c, double value, double u = 0, const judge_options& also = {}) {
  auto in = good_test();
  in.set(c, {value, u});
  return judge(derive(in, no2_oil), residential_oil, also);
}
bool finds(const findings& all, finding_kind k) { return all.find(k) != nullptr; }
double fahrenheit(double t) { return temperature::from_fahrenheit(t).in_kelvins(); }

TEST(finding, a_good_test_has_none) { EXPECT_TRUE(judge(derive(good_test(), no2_oil)).empty()); }

// Common practice, no source: the series at the edge of each limit
TEST(finding, edges_of_the_limits) {
  using k = finding_kind;
  EXPECT_TRUE(finds(judged(channel::stack_temp, fahrenheit(349)), k::stack_cool));
  EXPECT_FALSE(finds(judged(channel::stack_temp, fahrenheit(350)), k::stack_cool));
  for (const auto& [inches, found] : {std::pair{-0.009, true}, {-0.010, false}, {-0.020, false},
                                      {-0.021, true}}) {
    EXPECT_EQ(finds(judged(channel::draft_overfire, limits::inches(inches)),
                    k::draft_overfire_off), found) << inches;
  }
  EXPECT_TRUE(finds(judged(channel::draft_breech, limits::inches(-0.080)),
                    k::draft_difference_high));
  EXPECT_FALSE(finds(judged(channel::draft_breech, limits::inches(-0.070)),
                     k::draft_difference_high));
  EXPECT_TRUE(finds(judged(channel::o2, 0.039), k::oxygen_low));
  EXPECT_FALSE(finds(judged(channel::o2, 0.040), k::oxygen_low));
  EXPECT_FALSE(finds(judged(channel::o2, 0.070), k::oxygen_high));
  EXPECT_TRUE(finds(judged(channel::o2, 0.071), k::oxygen_high));
  EXPECT_FALSE(finds(judged(channel::co, 99e-6), k::co_high));
  EXPECT_TRUE(finds(judged(channel::co, 100e-6), k::co_high));
}

TEST(finding, carbon_dioxide_by_instrument_and_by_absorption_kit) {
  const auto by = [](double percent, bool kit) {
    lanes<estimate> in;
    in.set(channel::co2, {percent / 100, 0});
    return judge(derive(in, no2_oil), residential_oil, {.absorption_kit = kit});
  };
  EXPECT_TRUE(finds(by(9.9, false), finding_kind::co2_low));
  EXPECT_TRUE(by(10.0, false).empty());
  EXPECT_TRUE(by(12.5, false).empty());
  EXPECT_TRUE(finds(by(12.6, false), finding_kind::co2_high));
  EXPECT_TRUE(finds(by(8.9, true), finding_kind::co2_low));
  EXPECT_TRUE(by(9.0, true).empty());
  EXPECT_TRUE(by(13.0, true).empty());
  EXPECT_TRUE(finds(by(13.1, true), finding_kind::co2_high));
}

TEST(finding, says_limit_margin_basis_and_whether_the_uncertainty_straddles_it) {
  const auto all = judged(channel::o2, 0.071, 0.001);
  const auto* f = all.find(finding_kind::oxygen_high);
  ASSERT_TRUE(f);
  EXPECT_EQ(f->limit, 0.07);
  EXPECT_NEAR(*f->margin(), -0.001, 1e-15);
  EXPECT_TRUE(f->straddles);  // 7.1 +- 0.2
  EXPECT_EQ(f->basis, "common practice");
  EXPECT_EQ(f->of, subject{channel::o2});
  EXPECT_EQ(f->key, "oxygen_high");
  EXPECT_FALSE(judged(channel::o2, 0.074, 0.001).find(finding_kind::oxygen_high)->straddles);
}

TEST(finding, one_on_the_co_of_the_flue_and_it_comes_first) {
  const auto all = judged(channel::co, 450e-6);
  ASSERT_GE(all.size(), 1U);
  EXPECT_EQ(all.begin()->what, finding_kind::co_high);
  EXPECT_EQ(all.begin()->grave, severity::danger);
  EXPECT_EQ(all.size(), 1U);
  EXPECT_EQ(judged(channel::co, 150e-6).begin()->grave, severity::warning);
}

TEST(finding, a_makers_limit_speaks_in_place_of_common_practice) {
  auto own = residential_oil;
  own.set("oxygen_high", 0.045, "maker's manual");
  own.set("efficiency_gross_low", 0.90, "maker's manual");
  const auto all = judge(derive(good_test(), no2_oil), own);
  ASSERT_TRUE(finds(all, finding_kind::oxygen_high));
  EXPECT_EQ(all.find(finding_kind::oxygen_high)->basis, "maker's manual");
  EXPECT_TRUE(finds(all, finding_kind::efficiency_low));
}

TEST(finding, smoke_above_zero) {
  const auto y = derive(good_test(), no2_oil);
  EXPECT_TRUE(finds(judge(y, residential_oil, {.smoke = 1}), finding_kind::smoke_high));
  EXPECT_TRUE(judge(y, residential_oil, {.smoke = 0}).empty());
}

TEST(finding, reading_still_moving) {
  settled_reading r;
  channel_reading stack;
  stack.rate_bound = 1.1 * limits::rate;
  r.channels.set(channel::stack_temp, stack);
  const auto y = derive(good_test(), no2_oil);
  EXPECT_TRUE(finds(judge(r, y), finding_kind::reading_too_early));
  stack.rate_bound = limits::rate;
  r.channels.set(channel::stack_temp, stack);
  EXPECT_TRUE(judge(r, y).empty());
}

TEST(finding, pressure_at_the_breech) {
  EXPECT_TRUE(finds(judged(channel::draft_breech, 3), finding_kind::draft_sign));
}

// Natural gas read as oil and the other way round; CO2 of 40 CFR 75 App. F for the fuel burned
TEST(finding, wrong_fuel_by_oxygen_and_carbon_dioxide_together) {
  const auto of = [](const char* burned, const char* chosen, double u) {
    auto in = good_test();
    in.set(channel::co2, {published::co2_from_o2(*find_fuel(burned)->factors, 0.05), u});
    return finds(judge(derive(in, *find_fuel(chosen))), finding_kind::wrong_fuel_likely);
  };
  EXPECT_TRUE(of("natural_gas", "no2_oil", 0.001));
  EXPECT_TRUE(of("no2_oil", "natural_gas", 0.001));
  EXPECT_TRUE(of("propane", "no2_oil", 0.001));
  EXPECT_FALSE(of("propane", "no2_oil", 0.02));  // a coarse CO2 shows nothing
  for (const auto* same : {"no1_oil", "no2_oil", "kerosene", "natural_gas", "propane", "butane"}) {
    EXPECT_FALSE(of(same, same, 0.0)) << same;
  }
}

TEST(finding, flue_gas_below_its_dew_point) {
  auto in = good_test();
  in.set(channel::stack_temp, {fahrenheit(110), 0.5});
  const auto all = judge(derive(in, *find_fuel("natural_gas")));
  ASSERT_TRUE(finds(all, finding_kind::condensing));
  EXPECT_NEAR(all.find(finding_kind::condensing)->limit, 273.15 + 53.8, 0.5);  // EA 28 %: table 4.6
}

frame with_co(double ppm) {
  frame f;
  f.indication.set(channel::co, ppm * 1e-6);
  return f;
}

TEST(finding, alarm_on_a_row_at_once) {
  EXPECT_FALSE(alarm_in(with_co(399), phase::appliance_warm_up));
  const auto flue = alarm_in(with_co(400), phase::appliance_warm_up);
  ASSERT_TRUE(flue);
  EXPECT_EQ(flue->grave, severity::danger);
  EXPECT_EQ(flue->what, finding_kind::co_high);
  EXPECT_FALSE(alarm_in(frame{}, phase::steady));
}

TEST(finding, alarm_in_room_air_is_graver) {
  EXPECT_FALSE(alarm_in(with_co(8), phase::fresh_air));
  EXPECT_EQ(alarm_in(with_co(9), phase::fresh_air)->grave, severity::note);
  EXPECT_EQ(alarm_in(with_co(35), phase::fresh_air)->grave, severity::warning);
  EXPECT_EQ(alarm_in(with_co(70), phase::fresh_air)->grave, severity::danger);
  EXPECT_EQ(alarm_in(with_co(70), phase::fresh_air)->what, finding_kind::co_in_room);
  EXPECT_FALSE(alarm_in(with_co(70), phase::steady));
}

TEST(finding, over_range_and_outliers_are_no_reason_to_keep_silent) {
  frame f;
  f.add_mark(channel::co, quality::over_range);
  const auto over = alarm_in(f, phase::steady);
  ASSERT_TRUE(over);
  EXPECT_FALSE(over->value);
  EXPECT_FALSE(over->margin());
  auto spike = with_co(2000);
  spike.add_mark(channel::co, quality::outlier);
  EXPECT_TRUE(alarm_in(spike, phase::steady));
}

}  // namespace
}  // namespace stilling
