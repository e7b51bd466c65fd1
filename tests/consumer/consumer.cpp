// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#include <stilling/terms/units.hpp>

int main() {
  const auto stack = stilling::temperature::from_fahrenheit(480);
  const auto room = stilling::temperature::from_fahrenheit(70);
  return (stack - room).in_fahrenheit() > 409 ? 0 : 1;
}
