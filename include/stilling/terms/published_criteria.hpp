// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#pragma once

#include <array>
#include <string_view>

#include "stilling/terms/settings.hpp"

/// When a test may be read, as laws, standards and common practice say it, each with its source.
/// What they ask for beside the readings is not judged; `leaves_out` says it. The maker's
/// instructions and local codes come first. The federal texts are those of the 2015 annual edition;
/// later ones may differ.
namespace stilling {

struct published_criterion {
  std::string_view name;
  std::string_view about;       // what it is for
  std::string_view source;
  std::string_view leaves_out;  // what the text asks for beside it, and no log shows
  channel_set required;
  reading_rule rule;
};

namespace published_rules {

/// Three readings of the stack a quarter of an hour apart, within so many degF. The texts say
/// "vary", which is taken as the range.
[[nodiscard]] constexpr reading_rule stack_within(double fahrenheit) noexcept {
  reading_rule r;
  r.readings = 3;
  r.set_apart(seconds(15 * 60));
  r.allowed.set(channel::stack_temp, {variation::range, unit::fahrenheit, fahrenheit, 0});
  return r;
}

/// Two readings a minute apart, no further than 3 degF from each other: the rule of thumb that
/// `field` takes its limit from, for a hand with a thermometer and a clock.
[[nodiscard]] constexpr reading_rule stack_by_the_minute() noexcept {
  reading_rule r;
  r.readings = 2;
  r.set_apart(seconds(60));
  r.allowed.set(channel::stack_temp, {variation::range, unit::fahrenheit, 3, 0});
  return r;
}

[[nodiscard]] constexpr reading_rule engine_monoxide() noexcept {
  reading_rule r;
  r.readings = 8;
  r.set_apart(seconds(15));
  r.allowed.set(channel::co, {variation::from_mean, unit::ppm, 1, 0.02});
  r.once = true;
  return r;
}

[[nodiscard]] constexpr reading_rule flue_loss_mean() noexcept {
  reading_rule r;
  r.readings = 1;
  r.mean = seconds(30);
  r.waiting = seconds(120);
  return r;
}

/// Readings 0, 2, 5 and 15 min after the warm-up its maker states; any two differ by no more than
/// the maximum permissible error, the intrinsic one of R 144-1 4.3.1: 2 ppm or 5 %.
[[nodiscard]] constexpr reading_rule analyser_warm_up() noexcept {
  reading_rule r;
  r.readings = 4;
  r.apart = {seconds(2 * 60), seconds(3 * 60), seconds(10 * 60)};
  r.allowed.set(channel::co, {variation::range, unit::ppm, 2, 0.05});
  r.allowed.set(channel::no, {variation::range, unit::ppm, 2, 0.05});
  r.once = true;
  r.needs_fire = false;
  return r;
}

}  // namespace published_rules

inline constexpr std::array<published_criterion, 8> published_criteria{{
    {"us_oil_heater", "vented heater that burns oil",
     "10 CFR 430 Subpart B App. O 3.1.2 (2015 ed.)",
     "smoke No. 1 or less, else the burner is readjusted and the readings begin again (2.4.2); "
     "draft within 0.005 inH2O of the maker's value",
     {channel::stack_temp},
     published_rules::stack_within(5)},
    {"us_gas_diverter", "vented heater that burns gas, with a draft diverter",
     "10 CFR 430 Subpart B App. O 3.1.1 (2015 ed.)",
     "how heater, fuel and vent are set up for the test",
     {channel::stack_temp},
     published_rules::stack_within(3)},
    {"us_gas_hood", "vented heater that burns gas, with a draft hood or direct vent",
     "10 CFR 430 Subpart B App. O 3.1.1 (2015 ed.)",
     "how heater, fuel and vent are set up for the test",
     {channel::stack_temp},
     published_rules::stack_within(5)},
    {"us_oil_furnace", "commercial warm air furnace that burns oil",
     "10 CFR 431.76(b)(2), (c)(1) (2015 ed.)",
     "CO2 sampled at the same time, within 6 in downstream, known to 0.1 points",
     {channel::stack_temp},
     published_rules::stack_within(5)},
    {"us_engine_co", "CO of an engine's exhaust, measurement phase",
     "40 CFR 63 Subpart ZZZZ App. A 8.2, 13.1 (2015 ed.)",
     "the conditioning phase before it, one reading a minute until they are constant (no number "
     "is given); calibration before and after",
     {channel::co},
     published_rules::engine_monoxide()},
    {"de_flue_loss", "flue gas loss of a heating appliance",
     "1. BImSchV (26 Jan 2010) Annex 2 no. 3.1, 3.4.1",
     "boiler water at 60 degC or more, unless it is made for less; combustion air measured near "
     "its intake",
     {channel::stack_temp, channel::o2},
     published_rules::flue_loss_mean()},
    {"instrument_warm_up", "a CO analyser after its warm-up, on one test gas",
     "OIML R 144-1:2013 2.11, 4.3.1, 4.7; R 144-2 1.19",
     "that the test gas stays the same, and that the log begins when the warm-up its maker states "
     "is over",
     {channel::co},
     published_rules::analyser_warm_up()},
    {"hand_minutes", "a burner read by hand: a thermometer once a minute, the rest when it stands",
     "common practice, no published source",
     "smoke, draft and CO2, which are read once the stack stands",
     {channel::stack_temp},
     published_rules::stack_by_the_minute()},
}};

[[nodiscard]] constexpr const published_criterion* find_published(std::string_view name) noexcept {
  for (const auto& c : published_criteria)
    if (c.name == name) return &c;
  return nullptr;
}

[[nodiscard]] constexpr session_settings settings_of(const published_criterion& c) noexcept {
  session_settings s;
  auto rule = c.rule;
  rule.name = c.name;
  s.judge_by(rule);
  s.require(c.required);
  s.phase.combustion_check = c.rule.needs_fire;
  return s;
}

}  // namespace stilling
