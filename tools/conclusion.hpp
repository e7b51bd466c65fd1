// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#pragma once

#include <optional>

#include "stilling/finished/finished_plateaus.hpp"
#include "stilling/session.hpp"
#include "stilling/stages/unrest.hpp"

// The last stage of a log: readings as they are proven, or in hindsight, and what is not quite at
// rest in them.

namespace stilling::command {

class conclusion {
  using live_readings = decltype(make_readings(session_settings{}));

 public:
  using emits = items<settled_reading, phase_change, observation>;

  conclusion(const session_settings& s, bool in_hindsight) noexcept
      : live_{make_readings(s)}, unrest_{s.plateau} {
    if (in_hindsight) whole_.emplace(s);
  }

  template <class Sink> void push(const verdict& v, Sink&& sink) noexcept {
    if (whole_) return whole_->push(v, looked_at(sink));
    live_.push(v, looked_at(sink));
    unrest_.push(v, overloaded{[&](const observation& o) { sink(o); }, [](const verdict&) {}});
  }
  template <class Sink> void push(const phase_change& p, Sink&& sink) noexcept {
    whole_ ? whole_->push(p, looked_at(sink)) : live_.push(p, looked_at(sink));
  }
  template <class Sink> void advance(instant t, Sink&& sink) noexcept {
    if (!whole_) live_.advance(t, looked_at(sink));
  }
  template <class Sink> void finish(Sink&& sink) noexcept {
    whole_ ? whole_->finish(looked_at(sink)) : live_.finish(looked_at(sink));
    unrest_.finish(sink);
  }
  template <class Sink> void interrupt(const discontinuity& d, Sink&& sink) noexcept {
    whole_ ? whole_->interrupt(d, looked_at(sink)) : live_.interrupt(d, looked_at(sink));
    unrest_.finish(sink);
  }

 private:
  /// Readings go by way of what looks for unrest in them.
  template <class Sink> auto looked_at(Sink& sink) noexcept {
    return overloaded{[this, &sink](const settled_reading& r) { unrest_.push(r, sink); },
                      [&sink](const phase_change& p) { sink(p); }};
  }

  live_readings live_;
  std::optional<finished_plateaus> whole_;
  unrest unrest_;
};
static_assert(stage<conclusion> && accepts<conclusion, verdict> &&
              accepts<conclusion, phase_change> && advances<conclusion> && interrupts<conclusion>);

}  // namespace stilling::command
