// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#pragma once

#include <algorithm>
#include <array>
#include <cstddef>
#include <cstdint>
#include <optional>

#include "stilling/estimators/tally.hpp"
#include "stilling/estimators/uncertainty.hpp"
#include "stilling/items/reading.hpp"
#include "stilling/stages/stage.hpp"
#include "stilling/terms/settings.hpp"

/// Accumulates the steady phase into a reading.
///
/// The past minutes are kept as a ring of short pieces, so that a plateau can begin with the rows
/// that proved it steady, and its newest rows are held back until it is known that they belong to
/// it. A reading is emitted when the phase becomes steady (open), and again when it has ended and
/// the cause of the end is known (closed, same `declared`).
namespace stilling {

template <std::size_t Pieces = 48> class plateau {
 public:
  using emits = items<settled_reading, phase_change>;

  explicit constexpr plateau(const plateau_settings& s) noexcept : settings_{s} {}

  template <class Sink> constexpr void push(const verdict& v, Sink&& sink) noexcept {
    advance(v.row.at, sink);
    newest_ = v.row.at;
    follow_peaks(v);
    const bool named = v.in == phase::steady || v.explained;
    if (state_ == state::ending && (named || v.row.at - *reading_.released > settings_.naming)) {
      settle_cause(v);
      close(sink);
    }
    if (state_ == state::open && v.in != phase::steady) begin_end(v, sink);
    keep(v);
    if (state_ == state::none && v.in == phase::steady) open(v, sink);
    if (state_ == state::open) {
      latest_ = v.trends;
      note_swing();
      move_along_if_creeping();
    }
  }

  /// A silence is told by the stage before as soon as it is known. Answered at once, it makes no
  /// difference whether time passed in between or the next row brought the news.
  template <class Sink> constexpr void push(const phase_change& p, Sink&& sink) noexcept {
    sink(p);
    if (p.why == cause::gap) advance(p.at + duration{1}, sink);
  }

  template <class Sink> constexpr void advance(instant t, Sink&& sink) noexcept {
    if (newest_ && t - *newest_ > settings_.gap) {
      if (state_ == state::open) {
        reading_.ended = cause::gap;
        reading_.released = *newest_ + settings_.gap;
        close(sink);
      } else if (state_ == state::ending) {
        close(sink);
      }
      pieces_.clear();
      whole_ = {};
    }
  }

  template <class Sink> constexpr void finish(Sink&& sink) noexcept {
    if (state_ == state::open) reading_.ended = cause::end_of_log;
    if (state_ != state::none) close(sink);
    begin_anew(*this, settings_);
  }

  template <class Sink> constexpr void interrupt(const discontinuity&, Sink&& sink) noexcept {
    if (state_ == state::open) {
      reading_.ended = cause::stream_broke;
      reading_.released = newest_;
    }
    if (state_ != state::none) close(sink);
    begin_anew(*this, settings_);
  }

 private:
  enum class state : std::uint8_t { none, open, ending };

  static constexpr duration newest_span = seconds(120);  // what a creeping plateau averages
  static constexpr std::size_t least_pieces = 6;  // or so many rows, where they come slowly

  using part = stretch<channel_count>;

  constexpr void settle_cause(const verdict& v) noexcept {
    if (reading_.ended != cause::departed || v.in == phase::steady) return;
    switch (v.why) {
      case cause::burner_off:
      case cause::probe_out:
      case cause::diluted:
      case cause::stage_change: reading_.ended = v.why; break;
      default: break;
    }
  }

  constexpr void follow_peaks(const verdict& v) noexcept {
    if (v.fire.burning && !burned_) peaks_ = {};
    burned_ = v.fire.burning;
    if (!burned_) return;
    for (const channel c : all_channels) {
      if (!v.row.usable(c)) continue;
      const double x = v.row.corrected(c);
      if (!peaks_.has(c) || x > peaks_[c]) peaks_.set(c, x);
    }
  }

  constexpr void keep(const verdict& v) noexcept {
    const instant t = v.row.at;
    part& piece = pieces_.begin_row(t, [this](const part& left) {
      if (state_ == state::open) whole_.merge(left);
    });
    for (const channel c : all_channels) {
      tally& k = piece.of[index_of(c)];
      if (v.row.usable(c)) {
        auto& before = heard_[index_of(c)];
        k.push(v.row.corrected(c), before ? in_seconds(t - *before) : 0);
        before = t;
      } else if (v.row.indication.has(c)) {
        k.set_aside();
      }
      const trend_estimate& now = v.trends[c];
      if (now.is == judgement::steady && now.measured)
        k.note_noise(now.scatter * now.scatter, now.noise_density);
    }
  }

  template <class Sink> constexpr void open(const verdict& v, Sink&& sink) noexcept {
    state_ = state::open;
    reading_ = {};
    looks_ = swinging_looks_ = 0;
    crept_.reset();
    reading_.declared = v.row.at;
    // The rows that prove every required channel steady: the latest of their windows' beginnings.
    std::optional<instant> since;
    for (const channel c : all_channels) {
      if (!settings_.required.contains(c) || !v.trends[c].since) continue;
      if (!since || *v.trends[c].since > *since) since = v.trends[c].since;
    }
    while (pieces_.size() > 1 && since && pieces_.oldest().from < *since) pieces_.drop_oldest();
    whole_ = {};
    latest_ = v.trends;
    note_swing();
    summarise();
    sink(reading_);
  }

  template <class Sink> constexpr void begin_end(const verdict& v, Sink&& sink) noexcept {
    reading_.released = v.row.at;
    reading_.ended =
        v.why == cause::near_limits || v.why == cause::fire_seen ? cause::departed : v.why;
    const instant onset = v.onset.value_or(v.row.at);
    while (pieces_.size() > 1 && pieces_.newest().to >= onset) pieces_.drop_newest();
    summarise();
    reading_.to = reading_.last_seen;
    pieces_.clear();
    whole_ = {};
    state_ = state::ending;
    if (reading_.ended != cause::departed) close(sink);
  }

  /// The closing reading is complete but for the cause; rows after the end are kept for the next.
  template <class Sink> constexpr void close(Sink&& sink) noexcept {
    if (state_ == state::open) {
      summarise();
      reading_.to = reading_.last_seen;
      pieces_.clear();
      whole_ = {};
    }
    sink(reading_);
    state_ = state::none;
  }

  /// A plateau hunts when most of it was judged in the mean over a swing.
  constexpr void note_swing() noexcept {
    ++looks_;
    std::optional<oscillation> now;
    for (const channel c : all_channels) {
      if (!latest_.has(c) || !latest_[c].period) continue;
      if (!now) now.emplace();
      now->period = *latest_[c].period;
      now->amplitude.set(c, latest_[c].amplitude);
    }
    if (now) ++swinging_looks_, swing_ = now;
    reading_.hunting = 2 * swinging_looks_ > looks_ ? swing_ : std::nullopt;
  }

  /// Within its limits, yet going somewhere: only the newest rows say where it is now.
  constexpr void move_along_if_creeping() noexcept {
    bool creeps = false;
    for (const channel c : all_channels) {
      if (!settings_.required.contains(c) || !latest_[c].measured) continue;
      if (proven_size(latest_[c].rate, latest_[c].rate_bound) > settings_.limits.of(c) / 2)
        creeps = true;
      const part& oldest = whole_.rows > 0 ? whole_ : pieces_.oldest();
      const tally& then = oldest.of[index_of(c)];
      if (then.count() == 0) continue;
      const double risen = latest_[c].level - then.mean();
      if ((risen > 0 ? risen : -risen) > 2 * 60 * settings_.limits.of(c)) creeps = true;
    }
    if (creeps) crept_ = newest_;
    reading_.creeping = crept_ && *newest_ - *crept_ <= newest_span;
    if (!creeps) return;
    whole_ = {};
    while (pieces_.size() > least_pieces && *newest_ - pieces_.oldest().to > newest_span)
      pieces_.drop_oldest();
  }

  constexpr void summarise() noexcept {
    const part all = pieces_.joined_to(whole_);
    reading_.from = all.from;
    reading_.last_seen = all.to;
    for (const channel c : all_channels) {
      if (all.of[index_of(c)].count() > 0) reading_.channels.set(c, reading_of(c, all));
    }
  }

  [[nodiscard]] constexpr channel_reading reading_of(channel c, const part& all) const noexcept {
    const tally& k = all.of[index_of(c)];
    const trend_estimate& now = latest_[c];
    channel_reading r;
    r.mean = k.mean();
    r.count = static_cast<std::uint32_t>(k.count());
    r.set_aside = k.passed_over();
    r.coverage = all.rows > 0 ? static_cast<double>(k.count()) / all.rows : 0;
    r.longest_gap = k.longest_gap();
    r.step = now.step;
    const bool is_long = now.long_rate && in_seconds(all.to - all.from) >= now.long_span;
    r.rate = is_long ? *now.long_rate : now.rate;
    if (now.measured) r.rate_bound = is_long ? now.long_rate_bound : now.rate_bound;
    r.remaining = now.remaining;
    r.lag = now.lag;
    if (peaks_.has(c)) r.peak = peaks_[c];
    // A swing was judged in its mean all along, so that is known as well as by so many windows.
    const double length = in_seconds(all.to - all.from);
    const double windows = now.span > 0 ? std::max(1.0, length / now.span) : 1;
    const auto judged =
        reading_.hunting ? std::nullopt : pieces_.worth_of(index_of(c), all, now.step);
    const tally::worth worth = judged ? *judged : k.of_mean(length, now.step);
    const auto u = tally::stated(
        worth, now.measured ? std::optional{windows * now.noise_freedom} : std::nullopt);
    r.effective_count = worth.effective_count;
    r.degrees_of_freedom = u.degrees_of_freedom;
    r.standard_uncertainty = u.standard;
    return r;
  }

  plateau_settings settings_;
  state state_ = state::none;
  settled_reading reading_{};
  std::optional<instant> newest_;
  std::array<std::optional<instant>, channel_count> heard_{};
  recent<channel_count, Pieces> pieces_{};
  part whole_{};  // what has left the ring since the plateau was declared
  lanes<trend_estimate> latest_{};
  lanes<double> peaks_{};  // since the fire was seen
  bool burned_ = false;
  std::optional<oscillation> swing_;
  std::optional<instant> crept_;  // newest row that was seen to creep
  std::uint32_t looks_ = 0, swinging_looks_ = 0;
};

static_assert(stage<plateau<>> && accepts<plateau<>, verdict> && accepts<plateau<>, phase_change> &&
              advances<plateau<>> && interrupts<plateau<>>);

}  // namespace stilling
