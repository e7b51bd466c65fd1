// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#pragma once

#include <array>
#include <optional>
#include <utility>

#include "stilling/estimators/transition.hpp"
#include "stilling/items/verdict.hpp"
#include "stilling/stages/stage.hpp"

/// How far each gas lags the stack temperature: sample line, filter and cell against a thermocouple
/// in the same stream. Shown by a change both went through from one level to another, a probe put
/// in or another firing rate; believed until another such change says otherwise or the log breaks.
/// Unknown where the stack itself was slower than the gas, as in any warm-up: that says nothing.
/// Where a lag is known, a gas that still stands after the stack left is not called steady before
/// twice the lag is over: what it is about to show is on its way.
namespace stilling {

class gas_path {
 public:
  using emits = items<verdict>;

  template <class Sink> constexpr void push(verdict&& v, Sink&& sink) noexcept {
    follow(v, channel::stack_temp);
    for (const channel c : gases) {
      follow(v, c);
      look_for_lag(c);
      if (v.trends.has(c)) qualify(v.row.at, lags_[index_of(c)], v.trends.slots[index_of(c)]);
    }
    sink(std::move(v));
  }

  template <class Sink> constexpr void finish(Sink&&) noexcept { begin_anew(*this); }

 private:
  static constexpr std::array gases{channel::o2, channel::co2, channel::co, channel::no};

  constexpr void follow(const verdict& v, channel c) noexcept {
    // The first rows of a change pass for outliers; a real one is seen to turn back.
    if (!v.row.possible(c) || !v.trends.has(c)) return;
    const trend_estimate& now = v.trends[c];
    std::optional<standing> level;
    if (now.is == judgement::steady && now.measured && !now.period)
      level = standing{now.level, now.scatter,
                       now.scatter * now.scatter * now.inflation * now.spacing, now.step};
    paths_[index_of(c)].update(v.row.at, v.row.corrected(c), level);
  }

  constexpr void look_for_lag(channel c) noexcept {
    const transition& stack = paths_[index_of(channel::stack_temp)];
    const auto& gas = paths_[index_of(c)].newest();
    if (!stack.newest() || !gas || stack.moves()) return;  // again: two causes
    if (const auto found = lag_behind(*stack.newest(), *gas)) lags_[index_of(c)] = found;
  }

  constexpr void qualify(instant t, std::optional<double> lag, trend_estimate& gas) const noexcept {
    gas.lag = lag;
    const auto& left = paths_[index_of(channel::stack_temp)].left();
    if (!lag || !left || in_seconds(t - *left) > 2 * *lag) return;
    if (gas.is == judgement::steady) gas.is = judgement::undecided;
    gas.within = false;
  }

  std::array<transition, channel_count> paths_;
  std::array<std::optional<double>, channel_count> lags_;
};

static_assert(stage<gas_path> && accepts<gas_path, verdict>);

}  // namespace stilling
