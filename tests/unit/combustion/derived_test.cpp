// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#include "stilling/combustion/derived.hpp"

#include <gtest/gtest.h>

namespace stilling {
namespace {

static_assert(name_of(method::composition) == "composition");
static_assert(name_of(all_methods[2]) == "siegert");
static_assert(derive_options{}.by == method::composition);
static_assert(sizeof(combustion) < 5120);

TEST(derived, a_new_answer_holds_no_figure) {
  const combustion y;
  for (const auto& row : figure_table) EXPECT_EQ(y[row.is].error(), undefined::not_derived);
}

TEST(derived, what_is_given_is_given_with_its_uncertainty) {
  combustion y;
  y.give(figure::co2, formula::f_factor_co2, uncertain{estimate{0.12, 0.001}, input::o2});
  EXPECT_EQ(y[figure::co2]->value, 0.12);
  EXPECT_EQ(y[figure::co2]->standard_uncertainty, 0.001);
  EXPECT_EQ(y[figure::co2]->by, formula::f_factor_co2);
  y.withhold(figure::co2, undefined::co2_measured);
  EXPECT_EQ(y[figure::co2].error(), undefined::co2_measured);
}

}  // namespace
}  // namespace stilling
