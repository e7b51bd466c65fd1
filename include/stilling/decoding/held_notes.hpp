// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#pragma once

#include <array>
#include <cstddef>
#include <cstdint>
#include <cstring>
#include <optional>

#include "stilling/items/record.hpp"

/// Notes without a time of their own, kept until the row after them gives them one.
namespace stilling {

class held_notes {
 public:
  /// False where there is no room: the note must go on without a time.
  bool keep(const note& n) noexcept {
    if (count_ == slots || n.text.size() > letters_.size() - used_) return false;
    std::memcpy(letters_.data() + used_, n.text.data(), n.text.size());
    used_ += n.text.size();
    notes_[count_++] = {n.line, static_cast<std::uint32_t>(used_)};
    return true;
  }

  /// Hands all of them on, in order, and forgets them.
  template <class Sink> void release(std::optional<instant> at, Sink& sink) noexcept {
    std::size_t from = 0;
    for (std::size_t i = 0; i < count_; ++i) {
      sink(note{notes_[i].line, at, {letters_.data() + from, notes_[i].end - from}});
      from = notes_[i].end;
    }
    count_ = used_ = 0;
  }

  [[nodiscard]] bool empty() const noexcept { return count_ == 0; }

 private:
  struct place {
    std::uint64_t line;
    std::uint32_t end;
  };
  static constexpr std::size_t slots = 16;
  std::array<char, 1024> letters_{};
  std::array<place, slots> notes_{};
  std::size_t used_ = 0;
  std::size_t count_ = 0;
};

}  // namespace stilling
