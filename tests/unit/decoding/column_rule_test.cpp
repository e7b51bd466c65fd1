// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#include "stilling/decoding/column_rule.hpp"

#include <gtest/gtest.h>

namespace stilling {
namespace {

static_assert(find_channel("co2") == channel::co2 && !find_channel("CO2"));

TEST(column_rule, names_a_column_its_channel_and_its_unit) {
  const auto r = read_column_rule("Flue T=stack_temp:degF");
  ASSERT_TRUE(r);
  EXPECT_EQ(r->name.view(), "Flue T");
  EXPECT_EQ(r->measurand, channel::stack_temp);
  EXPECT_EQ(r->as, unit::fahrenheit);
  EXPECT_FALSE(read_column_rule("Tstack = stack_temp")->as.has_value()) << "the log says it";
  EXPECT_EQ(read_column_rule("a=b=o2:%")->name.view(), "a=b") << "the last sign parts";
}

TEST(column_rule, names_times) {
  EXPECT_EQ(read_column_rule("epoch=time:ms")->in, time_unit::millisecond);
  const auto r = read_column_rule("Date+Clock=time");
  ASSERT_TRUE(r && r->is_time);
  EXPECT_EQ(r->name.view(), "Date");
  EXPECT_EQ(r->clock_name.view(), "Clock");
}

TEST(column_rule, refuses_what_says_nothing) {
  for (auto s : {"", "Flue T", "=o2:pct", "x=", "x=stack", "x=o2:degF", "x=o2:", "x=time:degF"})
    EXPECT_FALSE(read_column_rule(s).has_value()) << s;
  EXPECT_FALSE(read_column_rule(std::string(65, 'x') + "=o2:pct").has_value());
}

}  // namespace
}  // namespace stilling
