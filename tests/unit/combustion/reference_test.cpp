// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#include <gtest/gtest.h>

#include <cstdio>
#include <cstdlib>
#include <fstream>
#include <string>

#include "stilling/combustion/flue_gas.hpp"
#include "stilling/terms/units.hpp"

// Complete combustion against an independent thermochemistry library, where it is installed:
// tests/unit/combustion/reference.py. Another interpreter: STILLING_PYTHON=/path/to/python.
namespace stilling {
namespace {

constexpr int not_installed = 77;

void write_cases(std::ofstream& to) {
  const struct {
    const char* name;
    double c, h, o;
  } rows[]{{"no2_oil", 1, 1.80, 0}, {"natural_gas", 1, 3.78, 0.016}, {"propane", 3, 8, 0}};
  const double cold = temperature::from_fahrenheit(70).in_kelvins();
  to.precision(15);
  for (const auto& r : rows) {
    const auto e = elements_of(composition_of_formula(r.c, r.h, r.o), 0.0);
    for (const double o2 : {0.005, 0.03, 0.05, 0.08, 0.11, 0.15}) {
      for (const double f : {150.0, 300.0, 500.0, 700.0, 1000.0}) {
        const double hot = temperature::from_fahrenheit(f).in_kelvins();
        const auto g = flue_gas_of(e, dry_gas_at_oxygen(e, o2, 0.0), 0.0, 0.0);
        to << r.name << ' ' << r.c << ' ' << r.h << ' ' << r.o << ' ' << o2 << ' ' << hot << ' '
           << cold << ' ' << g.co2 / g.dry << ' ' << g.moisture() << ' '
           << g.air * molar_mass::dry_air / 1000 << ' '
           << dry_sensible_heat(g, cold, hot) + g.h2o * enthalpy_rise(species::h2o, cold, hot)
           << '\n';
      }
    }
  }
}

TEST(reference, composition_and_enthalpy_within_a_tenth_of_a_percent) {
  const std::string cases = testing::TempDir() + "stilling_reference_cases.txt";
  {
    std::ofstream to{cases};
    write_cases(to);
    ASSERT_TRUE(to) << cases;
  }
  const char* python = std::getenv("STILLING_PYTHON");
  const std::string command = std::string{"\""} + (python ? python : "python3") + "\" \"" +
                              STILLING_TEST_FOLDER "/unit/combustion/reference.py\" < \"" + cases +
                              "\" 2>&1";
  std::FILE* pipe = popen(command.c_str(), "r");
  ASSERT_TRUE(pipe);
  std::string said;
  for (int c = std::fgetc(pipe); c != EOF; c = std::fgetc(pipe)) said += static_cast<char>(c);
  const int status = pclose(pipe);
  std::remove(cases.c_str());
  const int code = status >= 0 ? status >> 8 : -1;
  if (code == not_installed) GTEST_SKIP() << said;
  EXPECT_EQ(code, 0) << said;
  std::fputs(said.c_str(), stdout);
}

}  // namespace
}  // namespace stilling
