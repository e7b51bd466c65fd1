// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#pragma once

// What a chain costs on a board, a row at a time: instructions, the deepest stack.

#include <cstdint>

#include "port.hpp"

namespace bare {

class cost {
 public:
  template <class Work> void of(Work&& work) noexcept {
    const std::uint64_t before = port::instructions();
    work();
    const std::uint64_t took = port::instructions() - before;
    all_ += took;
    if (took > most_) most_ = took;
    ++times_;
  }
  [[nodiscard]] std::uint64_t most() const noexcept { return most_; }
  void report() const noexcept {
    port::report("rows", times_);
    port::report("instructions_per_row", times_ > 0 ? all_ / times_ : 0);
    port::report("instructions_longest_row", most_);
    port::report("stack", port::stack_used());
  }

 private:
  std::uint64_t all_ = 0, most_ = 0, times_ = 0;
};

}  // namespace bare
