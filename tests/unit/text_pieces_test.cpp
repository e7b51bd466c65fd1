// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#include <gtest/gtest.h>

#include "stilling/text.hpp"

// Pieces of sentences: numbers with their uncertainty, rounded as JCGM 100, 7.2.6 advises.

namespace stilling {
namespace {

presentation fahrenheit_and_percent() {
  presentation as;
  as.units[index_of(channel::stack_temp)] = unit::fahrenheit;
  as.units[index_of(channel::o2)] = unit::percent;
  return as;
}

TEST(text_pieces, a_value_carries_unit_and_uncertainty) {
  channel_reading r;
  r.mean = (471.23 + 459.67) / 1.8;
  r.standard_uncertainty = 0.4 / 1.8;
  r.step = 1 / 1.8;
  EXPECT_EQ(plain::value_words(channel::stack_temp, r, fahrenheit_and_percent()), "471.2 ± 0.8 °F");
}

TEST(text_pieces, a_change_has_a_sign_and_no_offset) {
  const auto as = fahrenheit_and_percent();
  EXPECT_EQ(plain::change_words(channel::stack_temp, 10 / 1.8, 0.5 / 1.8, 1 / 1.8, as),
            "+10.0 ± 0.5 °F");
  EXPECT_EQ(plain::change_words(channel::o2, -0.012, 0.0008, 0.001, as), "-1.20 ± 0.08 %");
  EXPECT_EQ(plain::change_words(channel::o2, 0, 0.0008, 0.001, as), "0.00 ± 0.08 %");
  EXPECT_EQ(plain::change_words(figure::efficiency_gross, 0.009, 0.002, as), "+0.90 ± 0.20 %");
  // Nobody reads 20.00 off a display in steps of 1.
  EXPECT_EQ(plain::change_words(channel::stack_temp, 20 / 1.8, 0.024 / 1.8, 1 / 1.8, as),
            "+20.0 ± 0.1 °F");
}

TEST(text_pieces, have_words_for_names_units_and_times) {
  EXPECT_EQ(plain::name_words(channel::draft_overfire), "draft over fire");
  EXPECT_EQ(plain::unit_words(unit::fahrenheit), "°F");
  EXPECT_EQ(plain::time_words(instant{seconds(634)}), "10:34");
}

}  // namespace
}  // namespace stilling
