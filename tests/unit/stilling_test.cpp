// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT

#include "stilling/stilling.hpp"

#include <gtest/gtest.h>

#include <string>
#include <type_traits>

namespace stilling {
namespace {

// One name from every floor, with no other include.
static_assert(std::is_class_v<temperature> && std::is_class_v<lanes<double>>);
static_assert(std::is_class_v<session_settings> && std::is_class_v<frame>);
static_assert(std::is_class_v<settled_reading> && std::is_class_v<discontinuity>);
static_assert(std::is_class_v<trend<>> && std::is_class_v<window<double, 3>>);
static_assert(std::is_class_v<default_session> && std::is_class_v<log_summary>);
static_assert(std::is_class_v<combustion> && std::is_class_v<fuel>);

TEST(umbrella, is_enough_to_go_from_bytes_to_an_efficiency) {
  std::string log = "time_s,stack_temp_degF,ambient_temp_degF,o2_pct,co_ppm\n";
  for (int t = 0; t < 300; ++t) {
    const int wobble = t * 7 % 5 - 2;
    log += std::to_string(t) + ",47" + std::to_string(5 + wobble) + ",70,5." +
           std::to_string(2 + wobble) + "," + std::to_string(20 + wobble) + "\n";
  }
  int figures = 0;
  default_session live{session_settings{}};
  auto sink = overloaded{[&](const settled_reading& r) {
                           const auto y = derive(r, no2_oil);
                           const derived& gross = y[figure::efficiency_gross];
                           if (!r.to || !gross) return;
                           ++figures;
                           EXPECT_GT(gross->value, 0.75);
                           EXPECT_LT(gross->value, 0.95);
                         },
                         [](const auto&) {}};
  live.push(std::string_view{log}, sink);
  live.finish(sink);
  EXPECT_EQ(figures, 1);
}

}  // namespace
}  // namespace stilling
