// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#include "stilling/decoding/cell.hpp"

#include <gtest/gtest.h>

namespace stilling {
namespace {

using verdict = cell::verdict;

TEST(cell, reads_a_number_with_its_unit) {
  const auto c = read_cell(
      "425 \xC2\xB0"
      "F",
      quantity::temperature, '.');
  EXPECT_EQ(c.is, verdict::value);
  EXPECT_EQ(c.value, 425);
  EXPECT_EQ(c.as, unit::fahrenheit);
  EXPECT_EQ(read_cell("471F", quantity::temperature, '.').as, unit::fahrenheit);
  EXPECT_EQ(read_cell("5,1 %", quantity::volume_fraction, '\0').value, 5.1);
  EXPECT_FALSE(read_cell("21", quantity::volume_fraction, '.').as.has_value());
}

TEST(cell, keeps_markers_bounds_and_zero_apart) {
  EXPECT_EQ(read_cell("", quantity::temperature, '.').is, verdict::missing);
  EXPECT_EQ(read_cell("0", quantity::temperature, '.').is, verdict::value);
  EXPECT_EQ(read_cell("OVR", quantity::temperature, '.').is, verdict::over_range);
  const auto above = read_cell(">4000 ppm", quantity::volume_fraction, '.');
  EXPECT_EQ(above.is, verdict::over_range);
  EXPECT_TRUE(above.bounded);
  EXPECT_EQ(above.value, 4000);
  EXPECT_EQ(read_cell("<= 5", quantity::volume_fraction, '.').is, verdict::under_range);
}

TEST(cell, makes_no_number_of_anything_else) {
  EXPECT_EQ(read_cell("abc", quantity::temperature, '.').is, verdict::faulty);
  EXPECT_EQ(read_cell("12 parsec", quantity::temperature, '.').is, verdict::faulty);
  EXPECT_EQ(read_cell("12:30", quantity::temperature, '.').is, verdict::faulty);
  EXPECT_EQ(read_cell(">", quantity::temperature, '.').is, verdict::faulty);
  EXPECT_EQ(read_cell("1,234", quantity::temperature, '\0').is, verdict::ambiguous);
  EXPECT_EQ(read_cell("5 ppm", quantity::temperature, '.').is, verdict::faulty) << "not its unit";
}

TEST(cell, reads_letters_that_stand_for_plain_ones) {
  const auto number = [](std::string_view s) {
    const auto c = read_cell(s, quantity::pressure_difference, '\0');
    EXPECT_EQ(c.is, verdict::value) << s;
    return c.value;
  };
  EXPECT_EQ(number("\xE2\x88\x92"
                   "10,5"),
            -10.5);
  EXPECT_EQ(number("1\xC2\xA0"
                   "234,5"),
            1234.5);
  EXPECT_EQ(number("1\xE2\x80\xAF"
                   "234,5\xC2\xA0Pa"),
            1234.5);
  EXPECT_EQ(number("\xC2\xA0"
                   "5\xC2\xA0"),
            5);
  EXPECT_EQ(read_cell("\xE2\x80\x94", quantity::temperature, '.').is, verdict::missing);
  EXPECT_EQ(read_cell("\xE2\x88\x9E", quantity::temperature, '.').is, verdict::missing);
  EXPECT_EQ(read_cell("\xE2\x89\xA5 5", quantity::temperature, '.').is, verdict::over_range);
  EXPECT_EQ(read_cell("450 \xE2\x84\x89", quantity::temperature, '.').as, unit::fahrenheit);
  EXPECT_EQ(read_cell("4\xCF\x83"
                      "5",
                      quantity::temperature, '.')
                .is,
            verdict::damaged)
      << "noise makes letters too";
}

TEST(cell, tells_damage_from_words) {
  EXPECT_EQ(read_cell("4\xB5"
                      "2",
                      quantity::temperature, '.')
                .is,
            verdict::damaged);
  EXPECT_EQ(read_cell("\x01", quantity::temperature, '.').is, verdict::damaged);
  EXPECT_EQ(read_cell("42.\xA0", quantity::temperature, '.').is, verdict::damaged)
      << "42.5 with its last digit hit must not become 42";
}

}  // namespace
}  // namespace stilling
