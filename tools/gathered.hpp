// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#pragma once

#include <optional>
#include <string>
#include <type_traits>

#include "stilling/text.hpp"
#include "stilling/visit/visit.hpp"

// What a judged log says, kept as a visit instead of being written: for whoever shows or reports
// it.

namespace stilling::command {

class gathered {
 public:
  void begin(std::string&, const layout*, const presentation& as) {
    test_.emplace(*as.burned, as.how);
  }
  void look(const verdict& v) {
    if (test_) test_->add(v);
  }
  template <class Item> void write(std::string&, const Item& item, const presentation&) {
    constexpr bool kept = std::is_same_v<Item, settled_reading> ||
                          std::is_same_v<Item, observation> || std::is_same_v<Item, forecast> ||
                          std::is_same_v<Item, phase_change> || std::is_same_v<Item, note> ||
                          std::is_same_v<Item, discontinuity>;
    if constexpr (kept)
      if (test_) test_->add(item);
  }
  void tell(std::string&, instant when, const finding& f, const presentation&) {
    if (test_) test_->add(when, f);
  }
  void end(std::string&, const log_summary& s, const presentation&) { summary_ = s; }

  /// None before the columns of the log are known.
  [[nodiscard]] const std::optional<visit>& test() const noexcept { return test_; }
  /// As of the end of the log; empty before.
  [[nodiscard]] const log_summary& summary() const noexcept { return summary_; }

 private:
  std::optional<visit> test_;
  log_summary summary_;
};

}  // namespace stilling::command
