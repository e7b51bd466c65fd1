// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#pragma once

#include <initializer_list>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "stilling/terms/channel.hpp"

// What a column's name may mean where it leaves doubt: enough to propose, too little to use.

namespace stilling::command {

using word_list = std::initializer_list<std::string_view>;

/// In lower case: "Flue-Gas temp [°F]" has flue, gas, temp, f; "O2stack" o2 and stack.
[[nodiscard]] std::vector<std::string> words_in(std::string_view name);
[[nodiscard]] bool has_word(const std::vector<std::string>& words, word_list those);

[[nodiscard]] bool names_time(const std::vector<std::string>& words);
/// By the words the trade uses; common practice.
[[nodiscard]] std::optional<channel> channel_named(const std::vector<std::string>& words);

}  // namespace stilling::command
