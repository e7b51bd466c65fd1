// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#include "setting.hpp"

#include <gtest/gtest.h>

#include <set>
#include <string>

#include "log_settings.hpp"

namespace stilling::command {
namespace {

struct two_settings : testing::Test {
  std::string order;
  settings_list list{
      {.key = "one", .option = "--one", .take = [this](const words& w) { order += "1" + w[0]; }},
      {.key = "two",
       .option = "--two",
       .choices = {"a", "b"},
       .take = [this](const words& w) { order += "2" + w[0]; },
       .excludes = {"--one"}}};
  answers none = answers(2);

  std::string complaint(const answers& typed, const answers& filed) {
    try {
      take_all(list, typed, filed);
    } catch (const refusal& why) {
      return why.what();
    }
    return {};
  }
};

TEST_F(two_settings, the_file_speaks_where_nothing_is_typed) {
  EXPECT_EQ(complaint(none, {answer{{"x"}, "f:1: one"}, {}}), "");
  EXPECT_EQ(order, "1x");
  order.clear();
  EXPECT_EQ(complaint({answer{{"y"}, "--one"}, {}}, {answer{{"x"}, "f:1: one"}, {}}), "");
  EXPECT_EQ(order, "1y");
}

TEST_F(two_settings, what_is_typed_puts_out_what_it_excludes) {
  EXPECT_EQ(complaint({{}, answer{{"a"}, "--two"}}, {answer{{"x"}, "f:1: one"}, {}}), "");
  EXPECT_EQ(order, "2a");
  EXPECT_EQ(complaint({answer{{"x"}, "--one"}, answer{{"a"}, "--two"}}, none),
            "--two: makes no sense together with --one");
}

TEST_F(two_settings, every_fault_is_told_where_it_was_said) {
  EXPECT_EQ(complaint(none, {{}, answer{{"c"}, "f:9: two"}}), "f:9: two: 'c' is none of a, b");
}

// What the lists promise: keys and options are told apart, whatever is added.
TEST(log_settings, each_key_and_each_option_is_there_once) {
  log_options to;
  std::set<std::string> keys, options;
  for (auto part :
       {reading_settings, criterion_settings, judging_settings, drift_settings, shown_settings,
        figure_settings}) {
    for (const auto& s : part(to)) {
      EXPECT_TRUE(s.take);
      EXPECT_FALSE(s.key.empty() && s.option.empty());
      const auto key = std::string{s.table} + "." + std::string{s.key};
      EXPECT_TRUE(s.key.empty() || keys.insert(key).second) << key;
      if (s.option.empty()) continue;
      EXPECT_TRUE(options.insert(std::string{s.option}).second) << s.option;
      EXPECT_FALSE(s.about.empty()) << s.option;
      EXPECT_FALSE(s.heading.empty()) << s.option;
    }
  }
}

// Every number a criterion is made of can be said in a file.
TEST(log_settings, each_bound_that_check_knows_is_traced_to_a_key) {
  log_options to;
  std::set<std::string> governed;
  for (auto part : {reading_settings, criterion_settings, judging_settings})
    for (const auto& s : part(to)) governed.insert(s.governs.begin(), s.governs.end());
  for (const auto* name : {"decoder.interval",
                           "timeline.longest_silence",
                           "timeline.spacing",
                           "timeline.hold",
                           "screen.outlier_factor",
                           "screen.history",
                           "screen.overdue_changes",
                           "steadiness.claim_factor",
                           "steadiness.release_factor",
                           "steadiness.confidence",
                           "steadiness.spans",
                           "steadiness.least_cover",
                           "steadiness.longest_gap",
                           "steadiness.least_count",
                           "steadiness.precision",
                           "steadiness.resolution_weight",
                           "steadiness.departure",
                           "steadiness.departure_sigmas",
                           "steadiness.persistence",
                           "phase.required",
                           "phase.fire_oxygen",
                           "phase.fire_net_temperature",
                           "phase.dwell",
                           "phase.gap",
                           "plateau.naming"})
    EXPECT_TRUE(governed.contains(name)) << name;
}

}  // namespace
}  // namespace stilling::command
