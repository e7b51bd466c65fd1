// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT

#include "stilling/terms/channel.hpp"

#include <gtest/gtest.h>

#include <set>
#include <type_traits>

namespace stilling {
namespace {

static_assert(all_channels.size() == channel_count && channel_table.size() == channel_count);
static_assert(std::is_aggregate_v<lanes<double>> && std::is_trivially_copyable_v<lanes<double>>);
static_assert(sizeof(channel_set) == 1);
static_assert(channel_set{channel::o2, channel::co}.contains(channel::co));
static_assert(!channel_set{channel::o2}.contains(channel::co2));
static_assert(channel_set{}.empty() && channel_set{channel::no}.size() == 1);
static_assert(traits_of(channel::stack_temp).name == "stack_temp");

TEST(channel, each_stands_in_the_table_at_its_own_place) {
  std::set<std::string_view> names;
  for (std::size_t i = 0; i < channel_count; ++i) {
    EXPECT_EQ(index_of(all_channels[i]), i);
    const auto& traits = traits_of(all_channels[i]);
    EXPECT_TRUE(names.insert(traits.name).second) << traits.name << " is there twice";
    EXPECT_LT(traits.lowest, traits.highest) << traits.name;
  }
}

TEST(channel, kinds_are_what_the_names_say) {
  for (const channel c : all_channels) {
    const auto& traits = traits_of(c);
    const auto wanted = traits.name.ends_with("_temp")      ? quantity::temperature
                        : traits.name.starts_with("draft_") ? quantity::pressure_difference
                                                            : quantity::volume_fraction;
    EXPECT_EQ(traits.kind, wanted) << traits.name;
  }
}

// Facts a range has to let through. Dry air holds 20.946 % O2; CO2 of No. 2 oil ends at 15.45 %
// (40 CFR 75 App. F, 2015 ed.); a zero that has drifted shows a little below nothing.
TEST(channel, plausible_ranges_let_real_readings_through) {
  const auto lets_through = [](channel c, double x) {
    return x >= traits_of(c).lowest && x <= traits_of(c).highest;
  };
  EXPECT_TRUE(lets_through(channel::o2, 0.20946));
  EXPECT_TRUE(lets_through(channel::o2, -0.002));
  EXPECT_TRUE(lets_through(channel::co2, 0.1545));
  EXPECT_TRUE(lets_through(channel::co, 0.004));
  EXPECT_TRUE(lets_through(channel::co, -5e-6));
  EXPECT_TRUE(lets_through(channel::stack_temp, 533.15));
  EXPECT_TRUE(lets_through(channel::draft_breech, -12.5));
  EXPECT_FALSE(lets_through(channel::o2, 0.999)) << "a sentinel of 99.9 %";
  EXPECT_FALSE(lets_through(channel::stack_temp, 0)) << "nothing measured is no 0 K";
}

TEST(channel_set, behaves_as_a_set) {
  channel_set s{channel::stack_temp, channel::o2};
  s.insert(channel::co);
  s.insert(channel::co);
  EXPECT_EQ(s.size(), 3);
  s.erase(channel::o2);
  EXPECT_FALSE(s.contains(channel::o2));
  EXPECT_EQ(s, (channel_set{channel::co, channel::stack_temp}));
  EXPECT_TRUE(s.includes(channel_set{channel::co}));
  EXPECT_TRUE(s.includes(channel_set{}));
  EXPECT_FALSE(s.includes(channel_set{channel::co, channel::no}));
  EXPECT_EQ((s & channel_set{channel::co, channel::o2}), channel_set{channel::co});
  EXPECT_EQ((s | channel_set{channel::o2}).size(), 3);
}

TEST(lanes, know_what_is_there) {
  lanes<double> row;
  EXPECT_TRUE(row.valid.empty());
  row.set(channel::co, 0);
  EXPECT_TRUE(row.has(channel::co)) << "zero is a value, not nothing";
  EXPECT_FALSE(row.has(channel::o2));
  EXPECT_EQ(row[channel::co], 0);
}

TEST(lanes, are_equal_exactly_when_they_say_the_same) {
  lanes<double> a, b;
  a.set(channel::o2, 0.05);
  EXPECT_NE(a, b);
  b.set(channel::o2, 0.05);
  EXPECT_EQ(a, b);
  a.set(channel::co, 0);
  EXPECT_NE(a, b) << "a CO of zero is more than no CO";
  a.clear(channel::co);
  EXPECT_EQ(a, b);
  a.set(channel::co, 7e-6);
  a.clear(channel::co);
  EXPECT_EQ(a, b) << "what is cleared leaves no trace";
}

}  // namespace
}  // namespace stilling
