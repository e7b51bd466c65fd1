// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#pragma once

#include <algorithm>
#include <cstddef>
#include <cstdint>
#include <map>

#include "stilling/terms/time.hpp"

// How far apart rows are, counted in bounded memory however long the log: exact while the distances
// are few, as those of an instrument are; else in ever coarser steps.

namespace stilling::command {

class spacings {
 public:
  static constexpr std::size_t most = 4096;

  /// `d` above 0.
  void add(duration d) {
    ++count_;
    least_ = count_ == 1 ? d : std::min(least_, d);
    greatest_ = std::max(greatest_, d);
    ++counts_[d.count() / grain_];
    while (counts_.size() > most) coarsen();
  }

  [[nodiscard]] std::uint64_t count() const noexcept { return count_; }
  [[nodiscard]] duration least() const noexcept { return least_; }
  [[nodiscard]] duration greatest() const noexcept { return greatest_; }
  /// To within a step; 0 where there are none. Of two in the middle the lower.
  [[nodiscard]] duration median() const {
    std::uint64_t below = 0;
    for (const auto& [step, n] : counts_)
      if (below += n; 2 * below >= count_) return std::clamp(at(step), least_, greatest_);
    return {};
  }
  /// How many are longer than so much, to within a step.
  [[nodiscard]] std::uint64_t longer_than(duration d) const {
    std::uint64_t n = 0;
    for (auto it = counts_.upper_bound(d.count() / grain_); it != counts_.end(); ++it)
      n += it->second;
    return n;
  }

 private:
  [[nodiscard]] duration at(std::int64_t step) const noexcept { return duration{step * grain_}; }

  void coarsen() {
    std::map<std::int64_t, std::uint64_t> coarser;
    for (const auto& [step, n] : counts_) coarser[step / 2] += n;
    counts_.swap(coarser);
    grain_ *= 2;
  }

  std::map<std::int64_t, std::uint64_t> counts_;
  std::int64_t grain_ = 1;  // nanoseconds in a step
  std::uint64_t count_ = 0;
  duration least_{};
  duration greatest_{};
};

}  // namespace stilling::command
