// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#pragma once

#include <string_view>

namespace stilling {

/// A setting that makes no sense, by name, with the bound it broke.
struct setting_fault {
  std::string_view name;
  std::string_view must_be;
  friend constexpr bool operator==(const setting_fault&, const setting_fault&) = default;
};

}  // namespace stilling
