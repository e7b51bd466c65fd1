// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#include "stilling/decoding/column_name.hpp"

#include <gtest/gtest.h>

namespace stilling {
namespace {

using meaning = column_name::meaning;

TEST(canonical_name, splits_at_the_longest_channel) {
  const auto n = read_canonical_name("co2_pct");
  EXPECT_EQ(n.is, meaning::reading);
  EXPECT_EQ(n.measurand, channel::co2);
  EXPECT_EQ(read_canonical_name("co_ppm").measurand, channel::co);
  const auto ucum = read_canonical_name("draft_breech_[in_i'H2O]");
  EXPECT_EQ(ucum.measurand, channel::draft_breech);
  EXPECT_EQ(ucum.as, unit::inch_of_water) << "the code holds an underscore";
  EXPECT_EQ(read_canonical_name("time_min").in, time_unit::minute);
  EXPECT_EQ(read_canonical_name("time").form, clock_form::stamp);
  EXPECT_EQ(read_canonical_name("-").is, meaning::skipped);
}

TEST(canonical_name, is_exact) {
  for (auto s : {"", "stack_temp", "stack_temp_", "stack_temp_degX", "stack_temp_pct", "CO_ppm",
                 "supply_water_temp_degF", "time_x", "o2pct"})
    EXPECT_EQ(read_canonical_name(s).is, meaning::unknown) << s;
}

TEST(foreign_name, is_taken_by_words_that_leave_no_doubt) {
  const auto stack = read_foreign_name(
      "stack temp [\xB0"
      "F]");
  EXPECT_EQ(stack.measurand, channel::stack_temp);
  EXPECT_EQ(stack.as, unit::fahrenheit);
  EXPECT_EQ(read_foreign_name("Ambient (degC)").as, unit::celsius);
  EXPECT_EQ(read_foreign_name("O2 %").as, unit::percent);
  EXPECT_EQ(read_foreign_name("T_stack/\xC2\xB0"
                              "C")
                .as,
            unit::celsius);
  EXPECT_EQ(read_foreign_name("Flue-Gas Temperature").measurand, channel::stack_temp);
  EXPECT_FALSE(read_foreign_name("O2").as.has_value()) << "a unit is never supplied";
  EXPECT_EQ(read_foreign_name("time [s]").form, clock_form::number);
  EXPECT_EQ(read_foreign_name("elapsed time (min)").in, time_unit::minute);
  EXPECT_EQ(read_foreign_name("local_time").form, clock_form::stamp);
}

TEST(foreign_name, minds_no_gaps_and_no_letters_of_another_alphabet) {
  for (auto s : {"StackTemp(F)", "T stack [F]", "Tstack/degF", "STACK_TEMP_DEGF", "stack-temp F",
                 "Stack\xC2\xA0temp [\xE2\x84\x89]"}) {
    EXPECT_EQ(read_foreign_name(s).measurand, channel::stack_temp) << s;
    EXPECT_EQ(read_foreign_name(s).as, unit::fahrenheit) << s;
  }
  EXPECT_EQ(read_foreign_name("CO\xE2\x82\x82 [%]").measurand, channel::co2);
  EXPECT_EQ(read_foreign_name("O\xE2\x82\x82 dry [%]").measurand, channel::o2);
  EXPECT_EQ(read_foreign_name("Elapsed time (hh:mm:ss)").form, clock_form::stamp);
}

TEST(foreign_name, is_left_alone_where_there_is_doubt) {
  for (auto s : {"draft", "temperature", "T1", "COFront", "No", "stack temp [ppm]", "pressure [Pa]",
                 "CO max", "net stack temp [F]", "delta T [K]", "CO air free [ppm]", ""})
    EXPECT_NE(read_foreign_name(s).is == meaning::reading && read_foreign_name(s).as, true) << s;
  EXPECT_EQ(read_foreign_name("No").is, meaning::unknown) << "it numbers the rows";
  EXPECT_EQ(read_foreign_name("NO [ppm]").measurand, channel::no);
}

TEST(ruled_name, follows_the_caller) {
  decoder_settings s;
  s.add(*read_column_rule("T7=stack_temp:degF"));
  s.add(*read_column_rule("Lambda=o2"));
  s.add(*read_column_rule("Day+Clock=time"));
  s.add(*read_column_rule("tick=time"));
  EXPECT_EQ(read_ruled_name("T7", s).as, unit::fahrenheit);
  EXPECT_EQ(read_ruled_name("Lambda [%]", s).as, unit::percent) << "unit from the name";
  EXPECT_FALSE(read_ruled_name("Lambda", s).as.has_value());
  EXPECT_EQ(read_ruled_name("Clock", s).is, meaning::clock);
  EXPECT_EQ(read_ruled_name("tick [ms]", s).in, time_unit::millisecond);
  EXPECT_EQ(read_ruled_name("t7", s).is, meaning::unknown);
}

}  // namespace
}  // namespace stilling
