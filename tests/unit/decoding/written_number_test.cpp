// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#include "stilling/decoding/written_number.hpp"

#include <gtest/gtest.h>

namespace stilling {
namespace {

using verdict = written_number::verdict;

double value_of(std::string_view s, char known = '\0') {
  const auto n = read_written_number(s, known);
  EXPECT_EQ(n.is, verdict::number) << s;
  return n.value;
}
verdict verdict_of(std::string_view s, char known = '\0') {
  return read_written_number(s, known).is;
}

TEST(written_number, tells_the_decimal_sign_where_it_shows) {
  EXPECT_EQ(value_of("412,3"), 412.3);
  EXPECT_EQ(value_of("412.3"), 412.3);
  EXPECT_EQ(value_of("1.234,5"), 1234.5);
  EXPECT_EQ(value_of("1,234.5"), 1234.5);
  EXPECT_EQ(value_of("1.234.567"), 1'234'567);
  EXPECT_EQ(value_of("0,040"), 0.04) << "no group of thousands begins with 0";
  EXPECT_EQ(value_of("-0,040"), -0.04);
  EXPECT_EQ(value_of("21"), 21);
  EXPECT_EQ(value_of("1,5e3"), 1500);
  EXPECT_EQ(read_written_number("412,3", '\0').point, ',');
  EXPECT_EQ(read_written_number("21", '\0').point, '\0') << "proves nothing";
}

TEST(written_number, takes_blanks_and_apostrophes_between_thousands) {
  EXPECT_EQ(value_of("1 234,5"), 1234.5);
  EXPECT_EQ(value_of("1'234.5"), 1234.5);
  EXPECT_EQ(value_of("-12 345 678"), -12'345'678);
  EXPECT_EQ(value_of("1 234.567"), 1234.567) << "a group stands before the decimal sign only";
  EXPECT_TRUE(read_written_number("1 234", '.').grouped);
  EXPECT_FALSE(read_written_number("1234", '.').grouped);
  for (auto s : {"1 23", "1 2345", "1234 567", "0 123", "1 234'567", "1.5 234"})
    EXPECT_NE(read_written_number(s, '.').length, std::string_view{s}.size()) << s;
  EXPECT_EQ(verdict_of("1 234,567.8"), verdict::unreadable);
}

TEST(written_number, refuses_what_could_be_either_until_the_log_has_shown_it) {
  EXPECT_EQ(verdict_of("1,234"), verdict::ambiguous);
  EXPECT_EQ(verdict_of("999.100"), verdict::ambiguous);
  EXPECT_EQ(value_of("1,234", ','), 1.234);
  EXPECT_EQ(value_of("1,234", '.'), 1234);
  EXPECT_EQ(value_of("1.234", ','), 1234);
}

TEST(written_number, never_drops_a_sign_that_is_wrong) {
  EXPECT_EQ(verdict_of("9,99", '.'), verdict::unreadable) << "9,99 is not 999";
  EXPECT_EQ(verdict_of("5.1", ','), verdict::unreadable);
  EXPECT_EQ(verdict_of("1,23.4"), verdict::unreadable);
  EXPECT_EQ(verdict_of("1.2.3"), verdict::unreadable);
  EXPECT_EQ(verdict_of("1,2,3"), verdict::unreadable);
  EXPECT_EQ(verdict_of("1.234,5.6"), verdict::unreadable);
}

TEST(written_number, takes_no_more_than_the_number) {
  EXPECT_EQ(read_written_number("425 F", '.').length, 3U);
  EXPECT_EQ(read_written_number("1.234,5 ppm", ',').length, 7U);
  EXPECT_EQ(read_written_number("5E", '.').length, 1U);
  EXPECT_EQ(verdict_of("abc"), verdict::none);
  EXPECT_EQ(verdict_of(""), verdict::none);
  EXPECT_EQ(verdict_of("-,"), verdict::none);
}

TEST(written_number, survives_digits_without_end) {
  const std::string many(300, '7');
  EXPECT_EQ(verdict_of(many), verdict::unreadable);
}

}  // namespace
}  // namespace stilling
