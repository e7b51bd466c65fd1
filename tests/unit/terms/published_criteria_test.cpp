// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT

// That each preset says what its text says. What it makes of a log: tests/unit/cases.

#include "stilling/terms/published_criteria.hpp"

#include <gtest/gtest.h>

namespace stilling {
namespace {

constexpr auto stack = channel::stack_temp, monoxide = channel::co;

constexpr const reading_rule& rule_of(std::string_view name) { return find_published(name)->rule; }

static_assert([] {
  for (const auto& c : published_criteria)
    if (check(settings_of(c)) || find_published(c.name) != &c) return false;
  return true;
}());
static_assert(find_published("field") == nullptr && find_published("") == nullptr);

TEST(published_criteria, name_source_and_what_they_do_not_judge) {
  for (const auto& c : published_criteria) {
    EXPECT_FALSE(c.source.empty() || c.about.empty() || c.leaves_out.empty()) << c.name;
    EXPECT_EQ(settings_of(c).phase.required, c.required) << c.name;
  }
}

// 10 CFR 430 Subpart B App. O 3.1.1 and 3.1.2, 10 CFR 431.76(b)(2) (2015 ed.): three readings 15
// min apart; 5 degF for oil and for a draft hood or direct vent, 3 degF for a draft diverter.
TEST(published_criteria, of_stacks_are_in_the_unit_of_the_text) {
  const std::pair<const char*, double> limits[]{
      {"us_oil_heater", 5}, {"us_gas_diverter", 3}, {"us_gas_hood", 5}, {"us_oil_furnace", 5}};
  for (const auto& [name, fahrenheit] : limits) {
    const auto& r = rule_of(name);
    EXPECT_EQ(r.readings, 3U) << name;
    EXPECT_EQ(r.longest_apart(), seconds(15 * 60)) << name;
    EXPECT_EQ(r.allowed[stack], (tolerance{variation::range, unit::fahrenheit, fahrenheit, 0}));
  }
}

// 40 CFR 63 Subpart ZZZZ App. A 8.2, 13.1 (2015 ed.): eight readings every 15 s, each within 2 % or
// 1 ppm of their mean, whichever is less restrictive.
TEST(published_criteria, of_engines) {
  const auto& r = rule_of("us_engine_co");
  EXPECT_EQ(r.readings, 8U);
  EXPECT_EQ(r.longest_apart(), seconds(15));
  EXPECT_EQ(r.allowed[monoxide], (tolerance{variation::from_mean, unit::ppm, 1, 0.02}));
}

// 1. BImSchV (26 Jan 2010) Annex 2 no. 3.1 and 3.4.1: two minutes after the burner started, over
// 30 s.
TEST(published_criteria, of_the_flue_gas_loss) {
  const auto& r = rule_of("de_flue_loss");
  EXPECT_TRUE(r.is_one_mean());
  EXPECT_EQ(r.mean, seconds(30));
  EXPECT_EQ(r.waiting, seconds(120));
}

// OIML R 144-1:2013 2.11, 4.7 and R 144-2 1.19: 0, 2, 5 and 15 min after the warm-up; 4.3.1: 2 ppm
// or 5 %, the larger.
TEST(published_criteria, of_an_analyser) {
  const auto& r = rule_of("instrument_warm_up");
  ASSERT_EQ(r.readings, 4U);
  EXPECT_EQ(r.apart[0], seconds(2 * 60));
  EXPECT_EQ(r.apart[0] + r.apart[1], seconds(5 * 60));
  EXPECT_EQ(r.apart[0] + r.apart[1] + r.apart[2], seconds(15 * 60));
  EXPECT_EQ(r.allowed[monoxide], (tolerance{variation::range, unit::ppm, 2, 0.05}));
  EXPECT_FALSE(r.needs_fire);
}

// Three readings a quarter of an hour apart must not be parted by the silence between them.
TEST(published_criteria, outlast_the_time_between_their_readings) {
  const auto s = settings_of(*find_published("us_oil_heater"));
  EXPECT_EQ(s.phase.gap, seconds(15 * 60 + 90));
  EXPECT_EQ(s.plateau.gap, s.phase.gap);
  EXPECT_EQ(s.phase.dwell, duration{});
  EXPECT_EQ(settings_of(*find_published("us_engine_co")).phase.gap, phase_settings{}.gap);
}

// A channel without a tolerance would never be steady.
TEST(published_criteria, refuse_to_require_what_they_do_not_judge) {
  auto s = settings_of(*find_published("us_oil_heater"));
  s.require({stack, monoxide});
  ASSERT_TRUE(check(s));
  EXPECT_EQ(check(s)->name, "phase.required");
}

}  // namespace
}  // namespace stilling
