// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#include "stilling/decoding/fields.hpp"

#include <gtest/gtest.h>

#include <string>
#include <vector>

namespace stilling {
namespace {

static_assert(trimmed("  a b ") == "a b" && trimmed("   ").empty());
static_assert(trimmed("\t1") == "\t1", "a tab inside a comma-separated field is damage");

std::vector<std::string> fields_of(std::string_view line, char separator) {
  std::vector<std::string> out;
  field f;
  for (field_cursor c{line, separator}; c.next(f);) out.emplace_back(f.text);
  return out;
}
using texts = std::vector<std::string>;

TEST(fields, part_at_the_separator) {
  EXPECT_EQ(fields_of("a,b,,d", ','), (texts{"a", "b", "", "d"}));
  EXPECT_EQ(fields_of(" a , b ", ','), (texts{"a", "b"}));
  EXPECT_EQ(fields_of("a,", ','), (texts{"a", ""})) << "there is a field behind the last comma";
  EXPECT_EQ(fields_of("", ','), (texts{""}));
  EXPECT_EQ(fields_of("a\tb", '\t'), (texts{"a", "b"}));
}

TEST(fields, take_a_run_of_blanks_as_one_separator) {
  EXPECT_EQ(fields_of("  a   b\t c  ", ' '), (texts{"a", "b", "c"}));
  EXPECT_TRUE(fields_of("   ", ' ').empty());
}

TEST(fields, hide_separators_in_quotes) {
  EXPECT_EQ(fields_of("\"a,b\",c", ','), (texts{"a,b", "c"}));
  EXPECT_EQ(fields_of(" \"5,1 %\" ,x", ','), (texts{"5,1 %", "x"}));
  EXPECT_EQ(fields_of("\"a \"\"b\"\", c\",d", ','), (texts{"a \"\"b\"\", c", "d"}));
  EXPECT_EQ(fields_of("\"a b\" c", ' '), (texts{"a b", "c"}));
}

TEST(fields, leave_a_quote_that_never_closes) {
  EXPECT_EQ(fields_of("\"a,b", ','), (texts{"\"a", "b"}));
  EXPECT_EQ(fields_of("\"a\"b,c", ','), (texts{"\"a\"b", "c"})) << "letters behind the quote";
}

}  // namespace
}  // namespace stilling
