// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#include "stilling/terms/short_text.hpp"

#include <gtest/gtest.h>

#include <type_traits>

namespace stilling {
namespace {

static_assert(std::is_trivially_copyable_v<short_text<8>>);
static_assert(short_text<8>{}.empty());
static_assert(short_text<8>{"Flue T"}.view() == "Flue T");
static_assert(short_text<8>::fits("12345678") && !short_text<8>::fits("123456789"));

TEST(short_text, compares_by_what_it_says) {
  short_text<8> a{"stack"};
  EXPECT_EQ(a, short_text<8>{"stack"});
  a = short_text<8>{"o2"};
  EXPECT_EQ(a.view(), "o2");
  EXPECT_NE(a, short_text<8>{"o"});
}

TEST(short_text, leaves_out_what_does_not_fit) { EXPECT_EQ(short_text<4>{"stack"}.view(), "stac"); }

}  // namespace
}  // namespace stilling
