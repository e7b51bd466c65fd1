// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#include "stilling/combustion/exposure.hpp"

#include <gtest/gtest.h>

#include <algorithm>

namespace stilling {
namespace {

bool listed(double ppm, std::string_view source) {
  return std::any_of(exposure_table.begin(), exposure_table.end(), [&](const exposure_limit& l) {
    return l.ppm == ppm && l.source.find(source) != l.source.npos;
  });
}

TEST(exposure, published_limits_as_they_stand) {
  EXPECT_TRUE(listed(9, "40 CFR 50.8"));
  EXPECT_TRUE(listed(35, "40 CFR 50.8"));
  EXPECT_TRUE(listed(35, "NIOSH REL"));
  EXPECT_TRUE(listed(200, "NIOSH REL"));
  EXPECT_TRUE(listed(50, "OSHA PEL"));
  EXPECT_TRUE(listed(1200, "NIOSH IDLH"));
  for (const auto& l : exposure_table) {
    EXPECT_TRUE(l.mark == "read" || l.mark == "second-hand") << l.source;
    EXPECT_FALSE(l.over.empty()) << l.source;
  }
}

// 40 CFR 50.8: 9.4 -> 9 kept; 9.5 -> 10 exceeded; 5 valid hours: no verdict
TEST(exposure, eight_hour_mean_is_compared_as_an_integer) {
  EXPECT_EQ(exceeds_eight_hour_limit(9.4, 8), false);
  EXPECT_EQ(exceeds_eight_hour_limit(9.44, 8), false);
  EXPECT_EQ(exceeds_eight_hour_limit(9.5, 6), true);
  EXPECT_EQ(exceeds_eight_hour_limit(9.45, 8), true);  // to one decimal first: 9.5
  EXPECT_EQ(exceeds_eight_hour_limit(20, 5), std::nullopt);
  EXPECT_EQ(exceeds_eight_hour_limit(-1, 8), std::nullopt);
}

}  // namespace
}  // namespace stilling
