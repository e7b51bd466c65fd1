// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#include "stilling/combustion/explain.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <cstdio>
#include <cstdlib>
#include <set>
#include <string>
#include <vector>

#include "stilling/combustion/combustion.hpp"
#include "stilling/combustion/worked_steps.hpp"
#include "stilling/terms/units.hpp"

namespace stilling {
namespace {

/// A pocket calculator: numbers, + - x /, brackets.
class calculator {
 public:
  explicit calculator(const std::string& text) : at_{text.c_str()} {}
  double sum() {
    double x = product();
    for (char c = next(); c == '+' || c == '-'; c = next()) {
      ++at_;
      const double y = product();
      x = c == '+' ? x + y : x - y;
    }
    return x;
  }
  bool finished() { return next() == '\0'; }

 private:
  char next() {
    while (*at_ == ' ') ++at_;
    return *at_;
  }
  double product() {
    double x = factor();
    for (char c = next(); c == 'x' || c == '/'; c = next()) {
      ++at_;
      const double y = factor();
      x = c == 'x' ? x * y : x / y;
    }
    return x;
  }
  double factor() {
    if (next() == 's') {  // sqrt( … )
      at_ += 4;
      return std::sqrt(factor());
    }
    if (next() == '(') {
      ++at_;
      const double x = sum();
      if (next() == ')') ++at_;
      return x;
    }
    char* end = nullptr;
    const double x = std::strtod(at_, &end);
    at_ = end;
    return x;
  }
  const char* at_;
};

lanes<estimate> whole_test(bool with_oxygen) {
  lanes<estimate> in;
  in.set(channel::stack_temp, {temperature::from_fahrenheit(471).in_kelvins(), 1});
  in.set(channel::ambient_temp, {temperature::from_fahrenheit(68).in_kelvins(), 0.5});
  if (with_oxygen) in.set(channel::o2, {0.052, 0.001});
  else in.set(channel::co2, {0.116, 0.0025});
  in.set(channel::co, {420e-6, 2e-6});
  in.set(channel::draft_breech, {-17, 0.5});
  in.set(channel::draft_overfire, {-5, 0.5});
  return in;
}

double worked(std::string_view text, const combustion& y, const fuel& of);

std::string filled(std::string_view text, const combustion& y, const fuel& of) {
  std::string out;
  for_each_part(
      text, [&](std::string_view words) { out += words; },
      [&](std::string_view key) {
        auto x = number_named(key, y, of);
        if (const auto* step = find_step(key); !x && step) x = worked(step->text, y, of);
        ASSERT_TRUE(x) << key;
        char digits[40];
        std::snprintf(digits, sizeof digits, *x < 0 ? "(0 - %.15g)" : "%.15g", std::abs(*x));
        out += digits;
      });
  return out;
}

double worked(std::string_view text, const combustion& y, const fuel& of) {
  return calculator{filled(text, y, of)}.sum();
}

// The text of a formula, its numbers filled in, worked on a calculator, is the figure.
TEST(explain, every_formula_can_be_followed_with_a_calculator) {
  const std::set<formula> in_words{formula::siegert_rounding};
  std::set<formula> followed;
  std::vector<fuel> all(fuel_table.begin(), fuel_table.end());
  all.push_back(no2_oil);
  all.back().made_of.reset();  // F factors only
  fuel sulphurous = no2_oil;
  sulphurous.made_of = composition{0.85, 0.12, 0.01, 0.005, 0.01, 0.003, 0.002};
  all.push_back(sulphurous);
  for (const auto& f : all) {
    for (const auto by : all_methods) {
      for (int which = 0; which < 3; ++which) {
        auto in = whole_test(which != 1);
        if (which == 2) {
          in.set(channel::co2, {0.115, 0.001});
          in.clear(channel::co);
        }
        derive_options how{.by = by, .flue = chimney{{9, 0.1}, {268, 1}}};
        if (which != 2) how.humidity = estimate{0.4, 0.05};
        const auto y = derive(in, f, how);
        for (const auto& row : figure_table) {
          if (!y[row.is] || in_words.contains(y[row.is]->by)) continue;
          const auto& made = traits_of(y[row.is]->by);
          const auto text = filled(made.text, y, f);
          const auto unit = row.kind == shown_as::percent                  ? "pct"
                            : row.kind == shown_as::ppm                    ? "ppm"
                            : row.kind == shown_as::temperature_difference ? "K"
                            : row.kind == shown_as::temperature            ? "K"
                            : row.kind == shown_as::heat_capacity          ? "J_per_mol_K"
                            : row.kind == shown_as::amount                 ? "mol_per_kg"
                            : row.kind == shown_as::ratio                  ? ""
                                                                           : "Pa";
          const auto value = explaining::shown_in(y[row.is]->value, row.kind, unit);
          ASSERT_TRUE(value) << row.stem;
          calculator c{text};
          EXPECT_NEAR(c.sum(), *value, 1e-9 * std::abs(*value) + 1e-12)
              << f.name << ' ' << name_of(by) << ' ' << row.stem << ": " << text;
          EXPECT_TRUE(c.finished()) << text;
          followed.insert(made.is);
        }
      }
    }
  }
  for (const auto& row : formula_table) {
    EXPECT_NE(followed.contains(row.is), in_words.contains(row.is)) << row.name;
  }
}

TEST(explain, numbers_are_found_by_their_keys) {
  const auto y = derive(whole_test(true), no2_oil, {.by = method::app_o});
  EXPECT_NEAR(*number_named("stack_temp_degF", y, no2_oil), 471, 1e-9);
  EXPECT_NEAR(*number_named("net_stack_temp_degF", y, no2_oil), 403, 1e-9);
  EXPECT_NEAR(*number_named("o2_pct", y, no2_oil), 5.2, 1e-12);
  EXPECT_NEAR(*number_named("co_ppm", y, no2_oil), 420, 1e-9);
  EXPECT_EQ(number_named("app_o_b", y, no2_oil), 14.34);
  EXPECT_EQ(number_named("barometer_Pa", y, no2_oil), 101325);
  EXPECT_FALSE(number_named("humidity", y, no2_oil));
  EXPECT_FALSE(number_named("co2_degF", y, no2_oil));
  EXPECT_FALSE(number_named("efficiency_net_pct", y, no2_oil));  // the other basis
  EXPECT_FALSE(number_named("nonsense", y, no2_oil));
}

}  // namespace
}  // namespace stilling
