// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#pragma once

#include <array>
#include <cstddef>
#include <cstdint>
#include <string_view>

#include "stilling/items/assumption.hpp"
#include "stilling/items/frame.hpp"
#include "stilling/items/record.hpp"

/// What became of one row: a frame, and what was wrong with it.
namespace stilling {

/// A fault of the whole row comes alone; a cell's leaves the other cells be.
struct flaw {
  fault what = fault::bad_number;
  std::uint16_t field = 0;  // counts from 1; 0: the whole row
  std::string_view seen{};
};

struct row {
  frame held;
  std::array<flaw, channel_count> flaws{};
  std::uint8_t flaw_count = 0;
  bool usable = false;  // the frame may be handed on

  constexpr void clear() noexcept {
    held.indication = {};
    held.marks = {};
    held.written_step = {};
    flaw_count = 0;
    usable = false;
  }
  constexpr void add(const flaw& f) noexcept { flaws[flaw_count++] = f; }
  constexpr void reject(const flaw& f) noexcept {
    flaw_count = 0;
    usable = false;
    add(f);
  }
  [[nodiscard]] constexpr bool has(fault f) const noexcept {
    for (std::size_t i = 0; i < flaw_count; ++i)
      if (flaws[i].what == f) return true;
    return false;
  }
};

/// Says each kind of assumption once.
class said_once {
 public:
  template <class Report> constexpr void say(const assumption& a, Report& report) noexcept {
    auto& said = said_[static_cast<std::size_t>(a.what)];
    if (!said) report(a);
    said = true;
  }

 private:
  std::array<bool, assumed_count> said_{};
};

}  // namespace stilling
