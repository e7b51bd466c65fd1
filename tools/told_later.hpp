// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#pragma once

#include <algorithm>
#include <optional>
#include <string>
#include <utility>
#include <vector>

#include "stilling/terms/time.hpp"

// What is said of a log in hindsight comes when all rows are read; it is told among the rest in the
// order of time.

namespace stilling::command {

class told_later {
 public:
  /// `write` appends to the string it is given. Without a time of its own it follows what was said
  /// before.
  template <class Write> void say(std::optional<instant> t, Write write) {
    if (t) newest_ = *t;
    std::string text;
    write(text);
    if (!text.empty()) said_.emplace_back(newest_, std::move(text));
  }
  /// All of it, in the order of time. The clock may go back after this.
  void tell(std::string& to) {
    std::ranges::stable_sort(said_, {}, [](const auto& each) { return each.first; });
    for (const auto& each : said_) to += each.second;
    said_.clear();
  }

 private:
  std::vector<std::pair<instant, std::string>> said_;
  instant newest_{};
};

}  // namespace stilling::command
