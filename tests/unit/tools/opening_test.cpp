// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#include "opening.hpp"

#include <gtest/gtest.h>

#include <string>
#include <string_view>

namespace stilling::command {
namespace {

layout columns(std::initializer_list<channel> those) {
  layout l;
  std::uint16_t field = 0;
  for (const auto c : those) l.insert({++field, c, canonical_unit(traits_of(c).kind)});
  return l;
}

TEST(opening, ends_with_the_line_that_names_the_columns_whatever_the_pieces) {
  constexpr std::string_view log = "# a note\nno header\ntime_s,o2_pct\r\n0,5\n1,5\n";
  constexpr std::string_view held = "# a note\nno header\ntime_s,o2_pct\r";
  for (std::size_t size = 1; size <= log.size(); ++size) {
    opening o{session_settings{}};
    std::size_t taken = 0;
    for (std::size_t from = 0; from < log.size() && !o.over(); from += size)
      taken += o.push(log.substr(from, size));
    EXPECT_EQ(o.held(), held) << size;
    EXPECT_EQ(taken, held.size());
    ASSERT_NE(o.found(), nullptr);
    EXPECT_NE(o.found()->find(channel::o2), nullptr);
  }
}

TEST(opening, takes_a_header_that_is_all_there_is) {
  opening o{session_settings{}};
  o.push("time_s,o2_pct");
  EXPECT_FALSE(o.over());
  o.finish();
  EXPECT_NE(o.found(), nullptr);
}

TEST(opening, gives_up_on_a_log_that_never_names_its_columns) {
  opening o{session_settings{}};
  const std::string line = "nothing to see here\n";
  std::size_t pushed = 0, taken = 0;
  for (; !o.over(); pushed += line.size()) taken += o.push(line);
  EXPECT_EQ(o.held().size(), std::size_t{1} << 20);
  EXPECT_EQ(taken, o.held().size());
  EXPECT_EQ(o.found(), nullptr);
}

TEST(fit, leaves_a_full_log_as_it_is) {
  const auto l = columns({channel::stack_temp, channel::o2, channel::co});
  const auto f = fit({}, &l);
  EXPECT_TRUE(f.settings.phase.combustion_check);
  EXPECT_TRUE(f.assumptions.empty());
  EXPECT_TRUE(f.refusal.empty());
}

TEST(fit, asks_for_no_fire_where_there_is_no_oxygen_unless_told_to) {
  const auto l = columns({channel::stack_temp, channel::co});
  auto f = fit({}, &l);
  EXPECT_FALSE(f.settings.phase.combustion_check);
  EXPECT_EQ(f.settings.phase.required, (channel_set{channel::stack_temp, channel::co}));
  EXPECT_EQ(f.settings.plateau.required, f.settings.phase.required);
  EXPECT_EQ(f.assumptions.size(), 2U);
  log_options told;
  told.combustion_check = true;
  EXPECT_TRUE(fit(told, &l).settings.phase.combustion_check);
}

TEST(fit, never_drops_a_channel_that_was_asked_for_by_name) {
  const auto l = columns({channel::stack_temp, channel::o2});
  log_options told;
  told.required_by_hand = true;
  told.settings.require({channel::stack_temp, channel::co});
  EXPECT_NE(fit(told, &l).refusal.find("co must be steady"), std::string::npos);
}

TEST(fit, refuses_a_log_with_none_of_the_channels) {
  const auto l = columns({channel::draft_breech});
  EXPECT_FALSE(fit({}, &l).refusal.empty());
}

}  // namespace
}  // namespace stilling::command
