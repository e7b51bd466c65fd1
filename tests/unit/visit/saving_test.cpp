// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#include "stilling/visit/saving.hpp"

#include <gtest/gtest.h>

#include <cmath>

#include "stilling/combustion/fuel_table.hpp"

namespace stilling {
namespace {

combustion figures(double stack, double o2) {
  lanes<estimate> in;
  in.set(channel::stack_temp, {stack, 0.5});
  in.set(channel::ambient_temp, {293.15, 0.2});
  in.set(channel::o2, {o2, 0.0005});
  return derive(in, *find_fuel("no2_oil"));
}

TEST(saving, the_same_heat_from_less_fuel) {
  const auto before = figures(530, 0.09), after = figures(480, 0.05);
  const double a = before[figure::efficiency_gross]->value;
  const double b = after[figure::efficiency_gross]->value;
  const auto s = saved(before, after, {1000, 4.0});
  ASSERT_TRUE(s);
  EXPECT_DOUBLE_EQ(s->share.value, (b - a) / b);
  EXPECT_DOUBLE_EQ(s->amount.value, 1000 * (b - a) / b);
  EXPECT_DOUBLE_EQ(s->money->value, 4000 * (b - a) / b);
  EXPECT_TRUE(s->share.real());
}

TEST(saving, its_uncertainty_is_that_of_the_difference) {
  const auto before = figures(530, 0.09), after = figures(480, 0.05);
  const auto d = difference_of(before[figure::efficiency_gross]->parts,
                               after[figure::efficiency_gross]->parts);
  const auto s = saved(before, after, {1, {}});
  // To first order share = difference / efficiency, and the efficiency itself is well known.
  EXPECT_NEAR(s->share.standard_uncertainty,
              d.standard_uncertainty / after[figure::efficiency_gross]->value,
              0.1 * s->share.standard_uncertainty);
  EXPECT_FALSE(s->money);
}

TEST(saving, nothing_changed_is_nothing_saved) {
  const auto y = figures(500, 0.06);
  const auto s = saved(y, y, {1000, {}});
  EXPECT_EQ(s->share.value, 0);
  EXPECT_FALSE(s->share.real());
}

TEST(saving, without_an_efficiency_there_is_no_answer) {
  lanes<estimate> only_stack;
  only_stack.set(channel::stack_temp, {500, 0.5});
  EXPECT_FALSE(saved(derive(only_stack, *find_fuel("no2_oil")), figures(500, 0.06), {1, {}}));
}

}  // namespace
}  // namespace stilling
