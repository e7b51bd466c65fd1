// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#include "stilling/decoding/unit_switch.hpp"

#include <gtest/gtest.h>

namespace stilling {
namespace {

layout in(unit u) {
  layout l;
  l.insert({1, channel::stack_temp, u});
  l.insert({2, channel::ambient_temp, u});
  l.insert({3, channel::o2, unit::percent});
  return l;
}
frame row(unit u, double stack, double ambient, double o2 = 5) {
  frame f;
  f.indication.set(channel::stack_temp, to_canonical(u, stack));
  f.indication.set(channel::ambient_temp, to_canonical(u, ambient));
  f.indication.set(channel::o2, o2 / 100);
  return f;
}
std::optional<layout> second(unit u, const frame& a, const frame& b) {
  unit_switch s;
  EXPECT_FALSE(s.find(a, in(u)));
  return s.find(b, in(u));
}

TEST(unit_switch, is_seen_either_way) {
  const auto f = unit::fahrenheit;
  const auto c = unit::celsius;
  const auto there = second(f, row(f, 425, 68), row(f, 218.3, 20));
  ASSERT_TRUE(there);
  EXPECT_EQ(there->unit_of(channel::stack_temp), c);
  EXPECT_EQ(there->unit_of(channel::o2), unit::percent);
  const auto back = second(c, row(c, 218.3, 20), row(c, 425, 68));
  ASSERT_TRUE(back);
  EXPECT_EQ(back->unit_of(channel::ambient_temp), f);
}

TEST(unit_switch, is_not_what_a_flue_does) {
  const auto f = unit::fahrenheit;
  EXPECT_FALSE(second(f, row(f, 425, 68), row(f, 425.4, 68)));
  EXPECT_FALSE(second(f, row(f, 425, 68), row(f, 218.3, 68))) << "the room stands";
  EXPECT_FALSE(second(f, row(f, 425, 68), row(f, 218.3, 20, 20.9))) << "O2 moves";
  EXPECT_FALSE(second(f, row(f, 425, 68), row(f, 100, 20))) << "not by that rule";
}

TEST(unit_switch, reads_the_numbers_again) {
  const auto f = unit::fahrenheit;
  auto misread = row(f, 218.3, 20);
  misread.written_step[index_of(channel::stack_temp)] = 0.1 / 1.8;
  const auto seen = unit_switch::in_units(misread, in(f), in(unit::celsius));
  EXPECT_NEAR(seen.written_step[index_of(channel::stack_temp)], 0.1, 1e-12);
  EXPECT_NEAR(seen.indication[channel::stack_temp], 218.3 + 273.15, 1e-9);
  EXPECT_EQ(seen.indication[channel::o2], 0.05);
}

}  // namespace
}  // namespace stilling
