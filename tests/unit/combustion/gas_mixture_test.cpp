// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#include "stilling/combustion/gas_mixture.hpp"

#include <gtest/gtest.h>

#include <algorithm>

namespace stilling {
namespace {

static_assert(pure("ch4")[0] == 1);
static_assert(composition_of(pure("ch4")) == composition_of_formula(1, 4));

double fraction_of(std::string_view name, gas_mixture& x, double f) {
  const auto at = std::find_if(gas_components.begin(), gas_components.end(),
                               [&](const gas_component& g) { return g.name == name; });
  return x[static_cast<std::size_t>(at - gas_components.begin())] = f;
}

TEST(gas_mixture, heating_value_from_formation_enthalpies) {
  // Active Thermochemical Tables 1.112, recomputed: methane 890590, propane 2219332 J/mol. The
  // families differ by up to 339 J/mol (methane): 0.04 %.
  EXPECT_NEAR(heating_value_of(pure("ch4")) * 16.043e-3, 890590, 0.0004 * 890590);
  EXPECT_NEAR(heating_value_of(pure("c3h8")) * 44.097e-3, 2219332, 0.0004 * 2219332);
  // ATcT: CO 282949 J/mol
  EXPECT_NEAR(heating_value_of(pure("co")) * 28.010e-3, 282949, 50);
  EXPECT_EQ(heating_value_of(pure("n2")), 0);
  EXPECT_NEAR(heating_value_of(pure("co2")), 0, 1e-6);
}

TEST(gas_mixture, inerts_dilute_and_do_not_burn) {
  gas_mixture x{};
  fraction_of("ch4", x, 0.9);
  fraction_of("n2", x, 0.06);
  fraction_of("co2", x, 0.04);
  const auto w = composition_of(x);
  const double mass = 0.9 * 16.043 + 0.06 * 28.014 + 0.04 * 44.009;
  EXPECT_NEAR(w.sum(), 1, 1e-12);
  EXPECT_NEAR(w.nitrogen, 0.06 * 28.014 / mass, 1e-9);
  EXPECT_NEAR(heating_value_of(x),
              heating_value_of(pure("ch4")) * 0.9 * 16.043 / mass, 1);
}

TEST(gas_mixture, a_scale_of_the_fractions_changes_nothing) {
  gas_mixture x{}, y{};
  fraction_of("ch4", x, 0.5);
  fraction_of("c2h6", x, 0.1);
  fraction_of("ch4", y, 50);
  fraction_of("c2h6", y, 10);
  EXPECT_NEAR(heating_value_of(x), heating_value_of(y), 1e-6);
}

}  // namespace
}  // namespace stilling
