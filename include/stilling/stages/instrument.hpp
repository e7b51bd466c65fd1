// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#pragma once

#include <cstddef>
#include <optional>
#include <utility>

#include "stilling/estimators/common_decay.hpp"
#include "stilling/estimators/exponential.hpp"
#include "stilling/items/frame.hpp"
#include "stilling/stages/stage.hpp"

/// What the instrument itself does to the indications. It is warming up where the room's channel,
/// which no fire moves, decays in step with two others at least: since the first row, with one time
/// constant. A room channel that moves alone is the room, or its sensor; channels that move while
/// the room stands still are the appliance. Told within ten minutes of the first row or after a
/// break, or not at all; over once the room's channel is within 0.5 degF of where it is heading,
/// also where a fire meanwhile moves all the others. The numbers are our own choice.
namespace stilling {

class instrument {
 public:
  using emits = items<frame>;

  template <class Sink> constexpr void push(frame&& f, Sink&& sink) noexcept {
    if (!is_warm_) watch_warm_up(f);
    sink(std::move(f));
  }

  template <class Sink> constexpr void finish(Sink&&) noexcept { begin_anew(*this); }

 private:
  static constexpr double close_enough = 0.5 / 1.8;       // K
  static constexpr std::size_t others = 2;                // in step with the room's channel
  static constexpr double told_within = 600;              // seconds since the first row
  static constexpr duration between_looks = seconds(5);

  struct warm_up {
    instant at{};
    double time_constant = 0, remaining = 0;  // K, without sign, at that moment

    [[nodiscard]] constexpr double remaining_at(instant t) const noexcept {
      return remaining * decay(in_seconds(t - at) / time_constant);
    }
  };

  constexpr void watch_warm_up(frame& f) noexcept {
    together_.update(f.at, [&](std::size_t i) -> std::optional<double> {
      const auto c = static_cast<channel>(i);
      if (!f.usable(c)) return std::nullopt;
      return f.corrected(c);
    });
    if (!looked_ || f.at - *looked_ >= between_looks) look(f.at);
    if (!seen_) {
      is_warm_ = together_.age(f.at) > told_within;
    } else if (const double left = seen_->remaining_at(f.at); left > close_enough) {
      f.warming = left;
    } else {
      is_warm_ = true;
    }
  }

  constexpr void look(instant t) noexcept {
    looked_ = t;
    const auto d = together_.decay_of(index_of(channel::ambient_temp));
    if (!d || (!seen_ && d->with < others)) return;
    const double left = d->remaining > 0 ? d->remaining : -d->remaining;
    if (seen_ || left > close_enough) seen_ = warm_up{t, d->time_constant, left};
  }

  common_decay<channel_count> together_;
  std::optional<warm_up> seen_;
  std::optional<instant> looked_;
  bool is_warm_ = false;
};

static_assert(stage<instrument> && accepts<instrument, frame>);

}  // namespace stilling
