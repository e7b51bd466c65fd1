// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#pragma once

#include <cstdint>
#include <optional>
#include <string>

namespace stilling::command {

/// Which tests are meant; empty: all.
struct chosen_tests {
  std::optional<std::string> customer{}, site{}, appliance{};  // to the letter
  std::optional<std::int64_t> number{};
  [[nodiscard]] bool all() const noexcept { return !customer && !site && !appliance && !number; }
};

}  // namespace stilling::command
