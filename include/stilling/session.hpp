// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#pragma once

#include <algorithm>
#include <string_view>

#include "stilling/stages/decoder.hpp"
#include "stilling/stages/fire.hpp"
#include "stilling/stages/framer.hpp"
#include "stilling/stages/gas_path.hpp"
#include "stilling/stages/instrument.hpp"
#include "stilling/stages/phase.hpp"
#include "stilling/stages/plateau.hpp"
#include "stilling/stages/prescribed_mean.hpp"
#include "stilling/stages/screen.hpp"
#include "stilling/stages/steadiness.hpp"
#include "stilling/stages/successive_readings.hpp"
#include "stilling/stages/timeline.hpp"
#include "stilling/terms/expects.hpp"
#include "stilling/terms/settings.hpp"
#include "stilling/terms/time.hpp"

/// The chain, assembled: the one object an integrator holds.
///
///     auto live = stilling::default_session{settings};
///     live.push(bytes, sink);  live.advance(t, sink);  live.finish(sink);
///
/// The sink takes settled_reading, phase_change, burn, layout, note, rejection, discontinuity and
/// assumption; one it leaves out does not compile. Nothing is allocated, thrown or printed, and the
/// pieces the bytes arrive in change nothing. After finish() a session is as good as new.
namespace stilling {

/// From frames on one time line to verdicts.
template <std::size_t Slots = 256>
[[nodiscard]] constexpr auto judge_recipe(const session_settings& s) noexcept {
  return recipe{[&s] { return screen{s.screen}; }} | recipe{[] { return instrument{}; }} |
         recipe{[&s] { return steadiness<Slots>{s.steadiness}; }} |
         recipe{[] { return gas_path{}; }} | recipe{[&s] { return fire{s.phase}; }} |
         recipe{[&s] { return successive_readings{s.rule, s.phase.combustion_check}; }} |
         recipe{[&s] { return phases{s.phase}; }};
}

/// From verdicts to readings.
[[nodiscard]] constexpr auto readings_recipe(const session_settings& s) noexcept {
  return recipe{[&s] {
           return prescribed_mean{s.rule, s.phase.required, s.phase.combustion_check};
         }} |
         recipe{[&s] { return plateau<>{s.plateau}; }};
}

/// From bytes to frames on one time line.
[[nodiscard]] inline auto reader_recipe(const session_settings& s) noexcept {
  return recipe{[] { return framer<>{}; }} | recipe{[&s] { return decoder{s.decoder}; }} |
         recipe{[&s] { return timeline{s.timeline}; }};
}

/// The same as stages: what `look frames` shows, what `look verdicts` adds, and the rest.
[[nodiscard]] inline auto make_reader(const session_settings& s) noexcept {
  return reader_recipe(s)();
}
template <std::size_t Slots = 256>
[[nodiscard]] constexpr auto make_judge(const session_settings& s) noexcept {
  return judge_recipe<Slots>(s)();
}
[[nodiscard]] constexpr auto make_readings(const session_settings& s) noexcept {
  return readings_recipe(s)();
}

template <std::size_t Slots = 256> class basic_session {
  static auto make(const session_settings& s) noexcept {
    return (reader_recipe(s) | judge_recipe<Slots>(s) | readings_recipe(s))();
  }

 public:
  using assembled = decltype(make(session_settings{}));

  explicit basic_session(const session_settings& s) noexcept : chain_(make(s)) {
    STILLING_EXPECTS(!check(s));
  }

  /// Bytes of the log, in any pieces.
  template <class Sink> void push(std::string_view bytes, Sink&& sink) noexcept {
    chain_.push(bytes, sink);
  }
  /// A row that is already one: for instruments with a driver of their own. `row.at` between
  /// `earliest` and `latest`.
  template <class Sink> void push(const frame& row, Sink&& sink) noexcept {
    STILLING_EXPECTS(row.at >= earliest && row.at <= latest);
    chain_.push(row, sink);
  }
  /// The source broke off and goes on later: a cable pulled, an instrument restarted.
  template <class Sink> void push(const discontinuity& d, Sink&& sink) noexcept {
    chain_.push(d, sink);
  }
  /// Time passed and nothing was heard.
  template <class Sink> void advance(instant t, Sink&& sink) noexcept {
    chain_.advance(std::clamp(t, earliest, latest), sink);
  }
  /// The last word; back to the first state.
  template <class Sink> void finish(Sink&& sink) noexcept { chain_.finish(sink); }

  /// For saved_session.hpp: what belongs to this process.
  [[nodiscard]] auto ties() const noexcept { return chain_.ties(); }
  template <class Ties> void tie(const Ties& t) noexcept { chain_.tie(t); }

 private:
  assembled chain_;
};

using default_session = basic_session<>;

}  // namespace stilling
