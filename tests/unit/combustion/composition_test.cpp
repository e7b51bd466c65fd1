// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#include "stilling/combustion/composition.hpp"

#include <gtest/gtest.h>

namespace stilling {
namespace {

static_assert(composition_of_formula(1, 4).carbon + composition_of_formula(1, 4).hydrogen == 1);
static_assert(composition{.carbon = 0.5, .ash = 0.5}.sum() == 1);

// 40 CFR 1065.655 Table 1 (2015 ed.): printed w_C, last printed digit
TEST(composition, mass_fractions_of_a_formula) {
  EXPECT_NEAR(composition_of_formula(1, 1.80).carbon, 0.869, 0.001);
  EXPECT_NEAR(composition_of_formula(1, 1.93).carbon, 0.861, 0.001);
  EXPECT_NEAR(composition_of_formula(1, 2.64).carbon, 0.819, 0.001);
  EXPECT_NEAR(composition_of_formula(1, 3.78, 0.016).carbon, 0.747, 0.001);
  // recomputed from the same rows
  EXPECT_NEAR(composition_of_formula(1, 1.80).hydrogen, 0.1312, 0.00005);
  EXPECT_NEAR(composition_of_formula(1, 3.78, 0.016).hydrogen, 0.2370, 0.00005);
  EXPECT_NEAR(composition_of_formula(3, 8).hydrogen, 0.1829, 0.00005);
}

TEST(composition, a_blend_is_between_its_parts_and_whole) {
  const auto a = composition_of_formula(1, 1.8), b = composition{0.77, 0.12, 0.11, 0, 0, 0, 0};
  const auto mixed = blend(a, 0.25, b);
  EXPECT_NEAR(mixed.sum(), 1, 1e-12);
  EXPECT_NEAR(mixed.oxygen, 0.75 * 0.11, 1e-15);
  EXPECT_EQ(blend(a, 1, b), a);
}

TEST(composition, moles_of_atoms_in_a_kilogram) {
  const auto e = elements_of(composition_of_formula(1, 4), 0.0);
  EXPECT_NEAR(e.hydrogen / e.carbon, 4, 1e-12);
  EXPECT_NEAR(e.carbon * 16.043, 1000, 1e-9);  // methane: 12.011 + 4 x 1.008 g/mol
}

TEST(composition, unknown_hydrogen_takes_the_place_of_carbon) {
  const uncertain more{estimate{0, 0.002}, input::fuel_hydrogen};
  const auto e = elements_of(composition_of_formula(1, 1.8), more);
  EXPECT_NEAR(e.hydrogen.standard_uncertainty(), 2 / 1.008, 1e-12);
  EXPECT_LT(covariance(e.hydrogen, e.carbon), 0);
}

}  // namespace
}  // namespace stilling
