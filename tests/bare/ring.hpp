// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#pragma once

#include <array>
#include <atomic>
#include <cstdint>

namespace bare {

/// Bytes from an interrupt to the main loop: one side writes, one reads, nobody waits. What does
/// not fit is counted, not squeezed in: the reader has to know that a line is torn.
template <std::uint32_t Capacity> class ring {
  static_assert((Capacity & (Capacity - 1)) == 0, "a power of two");

 public:
  /// From the interrupt.
  void put(char c) noexcept {
    const auto at = written_.load(std::memory_order_relaxed);
    if (at - read_.load(std::memory_order_acquire) == Capacity) {
      lost_.store(lost_.load(std::memory_order_relaxed) + 1, std::memory_order_relaxed);
      return;
    }
    slots_[at % Capacity] = c;
    written_.store(at + 1, std::memory_order_release);
  }

  /// From the main loop: up to `most` bytes into `to`; how many there were.
  std::uint32_t take(char* to, std::uint32_t most) noexcept {
    const auto from = read_.load(std::memory_order_relaxed);
    const auto there = written_.load(std::memory_order_acquire) - from;
    const auto n = there < most ? there : most;
    for (std::uint32_t i = 0; i < n; ++i) to[i] = slots_[(from + i) % Capacity];
    read_.store(from + n, std::memory_order_release);
    return n;
  }
  [[nodiscard]] std::uint32_t lost() const noexcept {
    return lost_.load(std::memory_order_relaxed);
  }

 private:
  std::array<char, Capacity> slots_{};
  std::atomic<std::uint32_t> written_{0}, read_{0}, lost_{0};
};

}  // namespace bare
