// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#include "stilling/decoding/number.hpp"

#include <gtest/gtest.h>

#include <cstdlib>
#include <random>
#include <string>

namespace stilling {
namespace {

std::optional<double> number(std::string_view s, char point = '.') {
  decimal d;
  const char* const end = s.data() + s.size();
  if (read_decimal(s.data(), end, point, d) != end) return std::nullopt;
  return to_double(d, s, point);
}
std::optional<std::int64_t> stamp_of(std::string_view s, time_unit u = time_unit::second) {
  decimal d;
  const char* const end = s.data() + s.size();
  if (read_decimal(s.data(), end, '.', d) != end) return std::nullopt;
  return to_nanoseconds(d, u);
}

TEST(number, reads_the_forms_logs_use) {
  EXPECT_EQ(number("412.5"), 412.5);
  EXPECT_EQ(number("-0.040"), -0.04);
  EXPECT_EQ(number("+7"), 7);
  EXPECT_EQ(number("5250."), 5250);
  EXPECT_EQ(number(".02"), 0.02);
  EXPECT_EQ(number("2.071E-01"), 0.2071);
  EXPECT_EQ(number("1e3"), 1000);
  EXPECT_EQ(number("-0"), 0);
  EXPECT_EQ(number("5,1", ','), 5.1);
  EXPECT_EQ(number("0000000000000000000000000412.5"), 412.5);
}

TEST(number, takes_nothing_else) {
  for (auto s : {"", "-", ".", "+.", "e5", "5,1", "1.2.3", "0x10", "nan", "inf", "1e", " 1", "1 "})
    EXPECT_FALSE(number(s).has_value()) << s;
  EXPECT_FALSE(number("1e999").has_value()) << "no infinity out of digits";
}

TEST(number, stops_where_the_number_stops) {
  decimal d;
  const std::string_view s = "471F";
  EXPECT_EQ(read_decimal(s.data(), s.data() + 4, '.', d) - s.data(), 3);
  const std::string_view e = "5e";
  EXPECT_EQ(read_decimal(e.data(), e.data() + 2, '.', d) - e.data(), 1);
}

// The reference is the C library's strtod, correctly rounded in glibc.
TEST(number, is_the_nearest_double) {
  std::mt19937_64 chance{20260101};
  for (int i = 0; i < 200'000; ++i) {
    std::string s = std::to_string(chance() >> (chance() % 64));
    if (chance() % 8 != 0) s.insert(chance() % (s.size() + 1), ".");
    if (chance() % 8 == 0) s += "e" + std::to_string(static_cast<int>(chance() % 60) - 30);
    if (chance() % 2 == 0) s.insert(0, "-");
    ASSERT_EQ(number(s), std::strtod(s.c_str(), nullptr)) << s;
  }
}

TEST(nanoseconds, are_exact) {
  EXPECT_EQ(stamp_of("0"), 0);
  EXPECT_EQ(stamp_of("12.5"), 12'500'000'000);
  EXPECT_EQ(stamp_of("-1.000000001"), -1'000'000'001);
  EXPECT_EQ(stamp_of("1795528980.123456789"), 1'795'528'980'123'456'789) << "no double holds this";
  EXPECT_EQ(stamp_of("1795528980123", time_unit::millisecond), 1'795'528'980'123'000'000);
  EXPECT_EQ(stamp_of("0.1", time_unit::minute), 6'000'000'000);
  EXPECT_EQ(stamp_of("1.5", time_unit::hour), 5'400'000'000'000);
  EXPECT_EQ(stamp_of("3", time_unit::nanosecond), 3);
  EXPECT_EQ(stamp_of("1.5e3"), 1'500'000'000'000);
}

TEST(nanoseconds, round_half_up_wherever_zero_is) {
  EXPECT_EQ(stamp_of("0.0000000005"), 1);
  EXPECT_EQ(stamp_of("0.0000000004"), 0);
  EXPECT_EQ(stamp_of("-0.0000000005"), 0);
  EXPECT_EQ(stamp_of("-0.0000000006"), -1);
}

TEST(nanoseconds, refuse_what_does_not_fit) {
  EXPECT_FALSE(stamp_of("5e20").has_value());
  EXPECT_FALSE(stamp_of("99999999999999999999999").has_value());
  EXPECT_FALSE(stamp_of("1e99999").has_value());
  EXPECT_EQ(stamp_of("0e99999"), 0);
  EXPECT_EQ(stamp_of("1e-99999"), 0);
  EXPECT_TRUE(stamp_of("4611686018").has_value());
  EXPECT_FALSE(stamp_of("4611686019").has_value()) << "2^62 ns";
}

// Law 4: a constant added to every stamp shifts them all alike.
TEST(nanoseconds, shift_with_their_text) {
  std::mt19937_64 chance{7};
  for (int i = 0; i < 20'000; ++i) {
    const auto ms = static_cast<std::int64_t>(chance() % 100'000'000);
    const auto text = [](std::int64_t n) {
      const auto s = std::to_string(n);
      return s.size() > 3 ? s.substr(0, s.size() - 3) + "." + s.substr(s.size() - 3)
                          : "0." + std::string(3 - s.size(), '0') + s;
    };
    ASSERT_EQ(*stamp_of(text(ms + 1'700'000'000'000)) - *stamp_of(text(ms)),
              1'700'000'000'000'000'000);
  }
}

}  // namespace
}  // namespace stilling
