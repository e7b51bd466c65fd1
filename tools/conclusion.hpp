// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#pragma once

#include <optional>

#include "stilling/finished/finished_plateaus.hpp"
#include "stilling/session.hpp"

// The last stage of a log: readings as they are proven, or in hindsight.

namespace stilling::command {

class conclusion {
  using live_readings = decltype(make_readings(session_settings{}));

 public:
  using emits = live_readings::emits;

  conclusion(const session_settings& s, bool in_hindsight) noexcept : live_{make_readings(s)} {
    if (in_hindsight) whole_.emplace(s);
  }

  template <class Sink> void push(const verdict& v, Sink&& sink) noexcept {
    whole_ ? whole_->push(v, sink) : live_.push(v, sink);
  }
  template <class Sink> void push(const phase_change& p, Sink&& sink) noexcept {
    whole_ ? whole_->push(p, sink) : live_.push(p, sink);
  }
  template <class Sink> void advance(instant t, Sink&& sink) noexcept {
    if (!whole_) live_.advance(t, sink);
  }
  template <class Sink> void finish(Sink&& sink) noexcept {
    whole_ ? whole_->finish(sink) : live_.finish(sink);
  }
  template <class Sink> void interrupt(const discontinuity& d, Sink&& sink) noexcept {
    whole_ ? whole_->interrupt(d, sink) : live_.interrupt(d, sink);
  }

 private:
  live_readings live_;
  std::optional<finished_plateaus> whole_;
};
static_assert(stage<conclusion> && accepts<conclusion, verdict> &&
              accepts<conclusion, phase_change> && advances<conclusion> && interrupts<conclusion>);

}  // namespace stilling::command
