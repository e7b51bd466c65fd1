// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#pragma once

#include <cstdint>
#include <span>
#include <string_view>

#include "stilling/terms/result.hpp"

/// Smoke by the spot on a filter paper, 0 to 9, judged as three single tests: the mean rounded to
/// the nearest integer; any trace of oil on any paper fails, and such a paper does not count.
/// 1. BImSchV (26 Jan 2010) Annex 2 no. 3.2 and 3.3.
namespace stilling {

inline constexpr int highest_smoke = 9;

struct smoke_test {
  int number = 0;
  bool oily = false;  // yellow or oily: unburned oil on the paper
};

enum class smoke_fault : std::uint8_t {
  not_three_tests,
  off_the_scale,  // not 0 to 9
  oil_on_paper,   // fails whatever the mean
};

[[nodiscard]] constexpr std::string_view words_of(smoke_fault f) noexcept {
  constexpr std::string_view words[]{"three smoke tests are needed", "smoke goes from 0 to 9",
                                     "unburned oil on the paper: failed whatever the number"};
  return words[static_cast<std::size_t>(f)];
}

/// The smoke number of three tests, or why there is none.
[[nodiscard]] constexpr result<int, smoke_fault> smoke_number(
    std::span<const smoke_test> tests) noexcept {
  if (tests.size() != 3) return unexpected{smoke_fault::not_three_tests};
  int sum = 0;
  for (const auto& t : tests) {
    if (t.oily) return unexpected{smoke_fault::oil_on_paper};
    if (t.number < 0 || t.number > highest_smoke) return unexpected{smoke_fault::off_the_scale};
    sum += t.number;
  }
  return (2 * sum + 3) / 6;  // sum/3 to the nearest integer; a half cannot occur
}

}  // namespace stilling
