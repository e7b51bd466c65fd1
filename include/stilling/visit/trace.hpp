// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#pragma once

#include <cstddef>
#include <cstdint>
#include <optional>
#include <vector>

#include "stilling/items/frame.hpp"
#include "stilling/terms/channel.hpp"
#include "stilling/terms/time.hpp"

/// How the channels went, for a picture: lowest, highest and mean of each over spans of equal
/// length. Memory is bounded: where the spans run out each takes in its neighbour and the length
/// doubles. So a picture of ten minutes shows every row, one of ten hours shows spans of a minute,
/// and what was lowest and highest is lost from neither.
namespace stilling {

/// What one channel did within a span; canonical unit.
struct extent {
  double lowest = 0, highest = 0, sum = 0;
  std::uint32_t count = 0;
  [[nodiscard]] constexpr double mean() const noexcept { return sum / count; }
  constexpr void take(double x) noexcept {
    if (count == 0 || x < lowest) lowest = x;
    if (count == 0 || x > highest) highest = x;
    sum += x;
    ++count;
  }
  constexpr void take(const extent& e) noexcept {
    if (e.count == 0) return;
    if (count == 0 || e.lowest < lowest) lowest = e.lowest;
    if (count == 0 || e.highest > highest) highest = e.highest;
    sum += e.sum;
    count += e.count;
  }
  friend constexpr bool operator==(const extent&, const extent&) = default;
};

struct trace_span {
  instant from{}, to{};  // its first and last row
  lanes<extent> of;
  friend constexpr bool operator==(const trace_span&, const trace_span&) = default;
};

class trace {
 public:
  static constexpr std::size_t most = 1024;  // spans

  /// A row. Values that cannot be, or that stand alone against their neighbours, are left out.
  /// Rows come in order of time; one that does not begins a new span.
  void push(const frame& row) {
    if (spans_.empty() || row.at < spans_.back().from || row.at - spans_.back().from >= length_) {
      if (spans_.size() == most) halve();
      if (spans_.empty() || row.at < spans_.back().from || row.at - spans_.back().from >= length_)
        spans_.push_back({row.at, row.at, {}});
    }
    auto& span = spans_.back();
    span.to = row.at;
    for (const auto c : all_channels) {
      if (!row.usable(c)) continue;
      auto e = span.of[c];
      e.take(row.corrected(c));
      span.of.set(c, e);
    }
  }

  [[nodiscard]] const std::vector<trace_span>& spans() const noexcept { return spans_; }
  /// Of one span; zero while every row has its own.
  [[nodiscard]] duration length() const noexcept { return length_; }

 private:
  void halve() {
    if (length_ == duration{0})
      length_ = (spans_.back().from - spans_.front().from) / static_cast<int>(most / 2);
    else
      length_ *= 2;
    if (length_ <= duration{0}) length_ = duration{1};
    std::size_t kept = 0;
    for (std::size_t i = 1; i < spans_.size(); ++i) {
      auto& last = spans_[kept];
      const auto& next = spans_[i];
      if (next.from < last.from || next.from - last.from >= length_) {
        spans_[++kept] = next;
        continue;
      }
      last.to = next.to;
      for (const auto c : all_channels) {
        if (!next.of.has(c)) continue;
        auto e = last.of[c];
        e.take(next.of[c]);
        last.of.set(c, e);
      }
    }
    spans_.resize(kept + 1);
    if (spans_.size() == most) halve();
  }

  std::vector<trace_span> spans_;
  duration length_{0};
};

}  // namespace stilling
