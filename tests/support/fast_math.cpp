// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT

// Case 049 in a host that is built with -ffast-math, where a test for not-a-number is always false:
// six cells say nan, and six values must be missing. No value is marked by being none.

#include <cstdio>

#include "support/input_chain.hpp"

int main() {
  using namespace stilling;
  const auto h = testing::listen(testing::case_bytes("049-host-settings.csv"));
  const auto values = h.values(channel::stack_temp, unit::fahrenheit);
  double sum = 0;
  for (const double x : values) sum += x;
  const double mean = values.empty() ? 0 : sum / static_cast<double>(values.size());
  std::printf("%zu rows, %zu values, mean %.3f\n", h.frames.size(), values.size(), mean);
  return h.frames.size() == 61 && values.size() == 55 && mean > 123.44 && mean < 123.46 ? 0 : 1;
}
