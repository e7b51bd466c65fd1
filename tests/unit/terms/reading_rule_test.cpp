// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT

#include "stilling/terms/reading_rule.hpp"

#include <gtest/gtest.h>

#include <type_traits>

namespace stilling {
namespace {

constexpr auto stack = channel::stack_temp, monoxide = channel::co;

constexpr reading_rule three_readings() {
  reading_rule r;
  r.readings = 3;
  r.set_apart(seconds(900));
  r.allowed.set(stack, {variation::range, unit::fahrenheit, 5, 0});
  return r;
}

static_assert(std::is_trivially_copyable_v<reading_rule>);
static_assert(!check(reading_rule{}), "no rule is none that makes no sense");
static_assert(!reading_rule{}.is_series() && !reading_rule{}.is_one_mean());
static_assert(!check(three_readings()) && three_readings().is_series());
static_assert(three_readings().is_even() && three_readings().longest_apart() == seconds(900));
static_assert(punctuality(seconds(900)) == seconds(90));

TEST(reading_rule, is_uneven_only_by_the_distances_it_uses) {
  auto r = three_readings();
  r.apart[2] = seconds(1);
  EXPECT_TRUE(r.is_even()) << "three readings have two distances";
  EXPECT_EQ(r.longest_apart(), seconds(900));
  r.apart[1] = seconds(1000);
  EXPECT_FALSE(r.is_even());
  EXPECT_EQ(r.longest_apart(), seconds(1000));
}

TEST(reading_rule, of_one_mean_needs_its_length) {
  reading_rule r;
  r.readings = 1;
  ASSERT_TRUE(check(r));
  EXPECT_EQ(check(r)->name, "rule.readings") << "1 is not enough";
  r.mean = seconds(30);
  EXPECT_FALSE(check(r));
  r.waiting = seconds(-1);
  ASSERT_TRUE(check(r));
  EXPECT_EQ(check(r)->name, "rule.waiting");
}

template <class Change> std::string_view faulty_after(Change change) {
  auto r = three_readings();
  change(r);
  const auto fault = check(r);
  return fault ? fault->name : "nothing";
}

TEST(reading_rule, that_makes_no_sense_is_named) {
  using rule = reading_rule;
  EXPECT_EQ(faulty_after([](rule&) {}), "nothing");
  EXPECT_EQ(faulty_after([](rule& r) { r.readings = 11; }), "rule.readings");
  EXPECT_EQ(faulty_after([](rule& r) { r.readings = 4; }), "nothing");
  EXPECT_EQ(faulty_after([](rule& r) { r.apart[1] = duration{}; }), "rule.readings");
  EXPECT_EQ(faulty_after([](rule& r) { r.apart[2] = duration{}; }), "nothing");
  EXPECT_EQ(faulty_after([](rule& r) { r.set_apart(seconds(86'401)); }), "rule.apart");
  EXPECT_EQ(faulty_after([](rule& r) { r.mean = seconds(901); }), "rule.mean");
  EXPECT_EQ(faulty_after([](rule& r) { r.waiting = seconds(86'401); }), "rule.waiting");
  EXPECT_EQ(faulty_after([](rule& r) { r.allowed = {}; }), "rule.readings");
  EXPECT_EQ(faulty_after([](rule& r) { r.readings = 0; }), "rule") << "said for nothing";
  const auto allow = [](channel c, tolerance t) {
    return faulty_after([=](rule& r) { r.allowed.set(c, t); });
  };
  EXPECT_EQ(allow(monoxide, {variation::range, unit::ppm, 1, 0.02}), "nothing");
  EXPECT_EQ(allow(monoxide, {variation::range, unit::fahrenheit, 1, 0}), "rule.allowed");
  EXPECT_EQ(allow(monoxide, {variation::range, unit::ppm, -1, 0}), "rule.allowed");
  EXPECT_EQ(allow(monoxide, {variation::range, unit::ppm, 1, 1.5}), "rule.allowed");
  EXPECT_EQ(allow(stack, {variation::range, unit::fahrenheit, 5, 0.01}), "rule.allowed");
}

}  // namespace
}  // namespace stilling
