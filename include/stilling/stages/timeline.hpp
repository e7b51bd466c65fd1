// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#pragma once

#include <array>
#include <bit>
#include <cstddef>
#include <cstdint>
#include <optional>

#include "stilling/decoding/held_notes.hpp"
#include "stilling/items/assumption.hpp"
#include "stilling/items/frame.hpp"
#include "stilling/stages/stage.hpp"
#include "stilling/terms/timeline_settings.hpp"

/// Judges time, does not trust it. Behind this stage stamps rise strictly from one break to the
/// next; rows stay in the order they came in, nothing is sorted.
///
/// * A row with the stamp and the values of one of the newest `memory` rows was sent twice: it is
///   dropped and said (`repeated`). Not so where a log gives more than three rows one stamp: such a
///   clock is coarse, and rows that agree are the best sign of a steady flue.
/// * A step back is a break: `repeat` where rows sent twice led up to it, else `clock_back`.
/// * A step forward is a silence, and none of this stage's business, unless it is longer than the
///   settings allow or a whole number of hours more than the usual spacing: then the clock was set
///   (`clock_jump`).
/// * Rows that share a stamp are spread over the time to the next one, by how many shared the
///   stamp before. Until that is known they stand a millisecond apart. Said once.
/// * Where the settings say that a missing row means no change, the last row is said again at their
///   distance, without a line number, until the next one comes or time is told to have passed.
/// * A note without a time of its own takes that of the row after it; at the end of the log, of the
///   row before.
namespace stilling {

class timeline {
 public:
  using emits = items<frame, note, discontinuity, rejection, assumption>;
  static constexpr std::size_t memory = 128;

  constexpr timeline() noexcept : timeline{timeline_settings{}} {}
  explicit constexpr timeline(const timeline_settings& s) noexcept : settings_{s} {}

  template <class Sink> void push(const frame& f, Sink&& sink) noexcept {
    const auto print = fingerprint(f);
    if (started_ && f.at <= stamp_) [[unlikely]] {
      const bool same_stamp = f.at == stamp_;
      if (same_stamp) ++sharing_;
      if (!(same_stamp && is_coarse()) && remembers(f.at, print)) {
        resent_ |= !same_stamp;
        sink(rejection{f.line, fault::repeated, 0, {}});
        return;
      }
      if (!same_stamp) break_off(f, resent_ ? break_kind::repeat : break_kind::clock_back, sink);
    } else if (started_ && is_jump(f.at - stamp_)) [[unlikely]] {
      break_off(f, break_kind::clock_jump, sink);
    } else if (started_ && holds()) {
      hold_until(f.at, sink);
    }
    remember(f.at, print);
    resent_ = false;

    auto at = f.at;
    if (started_ && f.at == stamp_) {
      ++kept_;
      at += static_cast<std::int64_t>(kept_ - 1) * spacing();
      if (!said_spacing_) sink(assumption{.line = f.line, .what = assumed::spacing});
      said_spacing_ = true;
    } else {
      if (started_) interval_ = f.at - stamp_;
      shared_before_ = started_ ? kept_ : 0;
      kept_ = sharing_ = 1;
      stamp_ = f.at;
    }
    if (started_ && at <= newest_) at = newest_ + duration{1};
    started_ = true;
    newest_ = at;
    if (!notes_.empty()) notes_.release(at, sink);
    if (holds()) held_ = f, held_.line = 0, held_.at = at;
    if (at == f.at) [[likely]]
      return sink(f);
    frame moved = f;
    moved.at = at;
    sink(moved);
  }

  template <class Sink> void push(const note& n, Sink&& sink) noexcept {
    if (n.at || !notes_.keep(n)) sink(n);
  }

  /// Time passed and nothing was heard.
  template <class Sink> void advance(instant t, Sink&& sink) noexcept {
    if (started_ && holds() && t > held_.at && t - held_.at <= settings_.longest_silence)
      hold_until(t, sink);
  }

  template <class Sink> void finish(Sink&& sink) noexcept {
    notes_.release(started_ ? std::optional{newest_} : std::nullopt, sink);
    begin_anew(*this, settings_);
  }

  /// Notes wait on: the row after them is still to come.
  template <class Sink> void interrupt(const discontinuity&, Sink&&) noexcept { forget(); }

 private:
  struct seen {
    instant at{};
    std::uint64_t print = 0;
  };

  template <class Sink> void break_off(const frame& f, break_kind kind, Sink& sink) noexcept {
    forget();
    sink(discontinuity{f.line, f.at, kind});
  }

  [[nodiscard]] bool holds() const noexcept {
    return settings_.hold && *settings_.hold > duration{};
  }

  /// Said at fixed distances from the row held, so that it does not matter who asked when.
  template <class Sink> void hold_until(instant t, Sink& sink) noexcept {
    while (t - held_.at > *settings_.hold) {
      held_.at += *settings_.hold;
      newest_ = held_.at;
      sink(held_);
    }
  }

  void forget() noexcept {
    started_ = resent_ = false;
    remembered_ = 0;
    interval_ = {};
    kept_ = sharing_ = shared_before_ = 0;
  }

  /// Many rows to a stamp, here at the start or with the stamp before. In a log that gave each row
  /// its own, a row sent many times over is still that one row.
  [[nodiscard]] bool is_coarse() const noexcept {
    return shared_before_ > 3 || (sharing_ > 3 && interval_ == duration{});
  }

  [[nodiscard]] bool is_jump(duration step) const noexcept {
    if (step > settings_.longest_silence) return true;
    constexpr auto hour = seconds(3600);
    if (step < hour || interval_ <= duration{} || interval_ > seconds(60)) return false;
    const auto past = (step - interval_ + interval_ / 2) % hour;
    return past <= interval_;
  }

  [[nodiscard]] duration spacing() const noexcept {
    if (settings_.spacing) return *settings_.spacing;
    if (interval_ <= duration{}) return milliseconds(1);
    return interval_ / static_cast<std::int64_t>(kept_ > shared_before_ ? kept_ : shared_before_);
  }

  /// Two rows with the same fingerprint say the same; the other way round but for chance (2^-64).
  [[nodiscard]] static std::uint64_t fingerprint(const frame& f) noexcept {
    std::uint64_t sum = 0;
    for (std::size_t i = 0; i < channel_count; ++i) {
      const bool there = f.indication.has(all_channels[i]);
      auto bits = std::bit_cast<std::uint64_t>(f.indication.slots[i]);
      bits += there ? 0x9E3779B97F4A7C15U : static_cast<std::uint64_t>(f.marks[i]);
      bits *= 0xD6E8FEB86659FD93U + 2 * i;  // odd, one per lane
      sum += bits ^ (bits >> 32U);
    }
    return sum;
  }

  [[nodiscard]] bool remembers(instant at, std::uint64_t print) const noexcept {
    const auto n = remembered_ < memory ? remembered_ : memory;
    for (std::size_t i = 0; i < n; ++i)
      if (rows_[i].at == at && rows_[i].print == print) return true;
    return false;
  }
  void remember(instant at, std::uint64_t print) noexcept {
    rows_[remembered_++ % memory] = {at, print};
  }

  timeline_settings settings_;
  held_notes notes_{};
  frame held_{};  // said again while nothing changes
  std::array<seen, memory> rows_{};
  std::size_t remembered_ = 0;
  instant stamp_{};                  // of the newest row, as the log has it
  instant newest_{};                 // of the newest row, as handed on
  duration interval_{};              // from the stamp before to this one
  std::uint32_t kept_ = 0;           // rows handed on with this stamp
  std::uint32_t sharing_ = 0;        // rows seen with it
  std::uint32_t shared_before_ = 0;  // rows handed on with the stamp before
  bool started_ = false;
  bool resent_ = false;  // rows sent twice led up to here
  bool said_spacing_ = false;
};

static_assert(stage<timeline> && accepts<timeline, frame> && accepts<timeline, note> &&
              interrupts<timeline> && advances<timeline>);

}  // namespace stilling
