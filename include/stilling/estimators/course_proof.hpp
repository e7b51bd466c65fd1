// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#pragma once

#include <cstdint>
#include <optional>

#include "stilling/estimators/coarse_past.hpp"
#include "stilling/estimators/relaxation.hpp"
#include "stilling/terms/time.hpp"

/// Proof of steadiness by the course of the past ten minutes: how the rate has fallen so far says
/// more about where it is now than the middle of a window. Asked once per completed mean (nine
/// seconds); proven once several answers on end agree, half a minute of luck at most.
namespace stilling {

class course_proof {
 public:
  static constexpr std::uint32_t enough = 4;  // answers on end

  constexpr void update(instant t, double x) noexcept { past_.update(t, x); }

  /// The rate now; nothing where the past is too short, or asking is not worth it. An answer
  /// agrees where its bound is at most `most`.
  constexpr const std::optional<relaxed_rate>& ask(bool worth, const relaxation_demands& d,
                                                   double most) noexcept {
    if (past_.closed() == asked_) return now_;
    asked_ = past_.closed();
    now_ = worth ? relaxation::rate_of(past_, d) : std::nullopt;
    agreeing_ = now_ && now_->bound <= most ? agreeing_ + 1 : 0;
    return now_;
  }

  /// Whether it may be claimed: proven, or nothing to say against a proof by other means.
  [[nodiscard]] constexpr bool allows() const noexcept { return !now_ || agreeing_ >= enough; }

  /// The window has come to show what the past did; what comes is the window's.
  constexpr void retire() noexcept { now_.reset(); }
  constexpr void clear() noexcept { *this = {}; }

 private:
  coarse_past past_;
  std::optional<relaxed_rate> now_;
  std::uint64_t asked_ = 0;  // at so many means of the past
  std::uint32_t agreeing_ = 0;
};

/// In its place where claims are the windows' alone and 2 kB a channel are dear: `by_course` then
/// has no effect.
struct no_course {
  static constexpr void update(instant, double) noexcept {}
  [[nodiscard]] static constexpr std::optional<relaxed_rate> ask(bool, const relaxation_demands&,
                                                                 double) noexcept {
    return std::nullopt;
  }
  [[nodiscard]] static constexpr bool allows() noexcept { return true; }
  static constexpr void retire() noexcept {}
  static constexpr void clear() noexcept {}
};

}  // namespace stilling
