// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#include "stilling/decoding/reading.hpp"

#include <gtest/gtest.h>

namespace stilling {
namespace {

constexpr column stack{1, channel::stack_temp, unit::fahrenheit};
const auto quiet = [](const assumption&) {};

layout parted_by(char separator) {
  layout l;
  l.separator = separator;
  return l;
}

row read(reading_reader& r, const field& f, char separator = ';', const decoder_settings& s = {}) {
  row out;
  auto report = quiet;
  r.read(f, stack, separator, s, out, report);
  return out;
}

TEST(reading, knows_the_decimal_sign_between_commas_and_learns_it_elsewhere) {
  EXPECT_EQ((reading_reader{parted_by(','), {}}.point()), '.');
  EXPECT_EQ((reading_reader{parted_by(','), {.decimal_sign = ','}}.point()), ',');
  reading_reader r{parted_by(';'), {}};
  EXPECT_EQ(r.point(), '\0');
  read(r, {"412", false});
  EXPECT_EQ(r.point(), '\0') << "a whole number shows nothing";
  read(r, {"412,5", false});
  EXPECT_EQ(r.point(), ',');
  EXPECT_EQ(read(r, {"412.5", false}).flaws[0].what, fault::bad_number);
}

TEST(reading, lets_a_quoted_cell_have_a_sign_of_its_own) {
  reading_reader r{parted_by(','), {}};
  const auto out = read(r, {"5,1", true}, ',');
  EXPECT_TRUE(out.held.indication.has(channel::stack_temp));
  EXPECT_EQ(r.point(), '.');
}

TEST(reading, honours_the_unit_of_the_cell) {
  reading_reader r{parted_by(','), {}};
  const auto out = read(r,
                        {"100 \xC2\xB0"
                         "C",
                         false},
                        ',');
  EXPECT_EQ(out.held.indication[channel::stack_temp], 373.15);
}

TEST(reading, leaves_a_stand_in_out) {
  decoder_settings s;
  s.missing[s.missing_count++] = 999.0;
  reading_reader r{parted_by(','), s};
  EXPECT_FALSE(read(r, {"999.0 F", false}, ',', s).held.indication.has(channel::stack_temp));
  EXPECT_TRUE(read(r, {"998.9 F", false}, ',', s).held.indication.has(channel::stack_temp));
}

TEST(reading, marks_over_and_under_range_without_a_value) {
  reading_reader r{parted_by(','), {}};
  const auto over = read(r, {"OVR", false}, ',');
  EXPECT_FALSE(over.held.indication.has(channel::stack_temp));
  EXPECT_EQ(over.held.mark(channel::stack_temp), quality::over_range);
  EXPECT_EQ(read(r, {"<32", false}, ',').held.mark(channel::stack_temp), quality::under_range);
}

}  // namespace
}  // namespace stilling
