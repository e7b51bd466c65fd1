// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#pragma once

#include <array>
#include <cmath>
#include <cstddef>
#include <cstdint>
#include <optional>

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
    if (state_ == state::ending &&
        (v.in == phase::steady || is_named(v) || v.row.at - *reading_.released > settings_.naming)) {
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
      pieces_ = {};
      whole_ = {};
    }
  }

  template <class Sink> constexpr void finish(Sink&& sink) noexcept {
    if (state_ == state::open) reading_.ended = cause::end_of_log;
    if (state_ != state::none) close(sink);
    *this = plateau{settings_};
  }

  template <class Sink>
  constexpr void interrupt(const discontinuity&, Sink&& sink) noexcept {
    if (state_ == state::open) {
      reading_.ended = cause::stream_broke;
      reading_.released = newest_;
    }
    if (state_ != state::none) close(sink);
    *this = plateau{settings_};
  }

 private:
  enum class state : std::uint8_t { none, open, ending };

  static constexpr duration piece = seconds(5);
  static constexpr duration newest_span = seconds(120);  // what a creeping plateau averages

  /// One channel over some rows.
  struct tally {
    running_moments values;
    double noise = 0;      // sum over rows of the noise density
    double variance = 0;   // sum over rows of the variance about the trend
    double weight = 0;     // rows in those sums
    std::uint32_t set_aside = 0;
    std::optional<instant> heard;
    double longest_gap = 0;

    constexpr void merge(const tally& later) noexcept {
      values.merge(later.values);
      noise += later.noise, variance += later.variance, weight += later.weight;
      set_aside += later.set_aside;
      if (later.longest_gap > longest_gap) longest_gap = later.longest_gap;
      if (later.heard) heard = later.heard;
    }
  };

  struct part {
    instant from{}, to{};
    std::uint32_t rows = 0;
    std::array<tally, channel_count> of{};

    constexpr void merge(const part& later) noexcept {
      if (rows == 0) {
        *this = later;
        return;
      }
      to = later.to;
      rows += later.rows;
      for (std::size_t i = 0; i < channel_count; ++i) of[i].merge(later.of[i]);
    }
  };

  struct ring {
    std::array<part, Pieces> at{};
    std::size_t first = 0, count = 0;

    [[nodiscard]] constexpr part& operator[](std::size_t i) noexcept {
      return at[(first + i) % Pieces];
    }
    constexpr void drop_oldest() noexcept { first = (first + 1) % Pieces, --count; }
  };

  [[nodiscard]] static constexpr bool is_named(const verdict& v) noexcept {
    return !(v.in == phase::disturbed && v.why == cause::departed);
  }

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
      if (!v.row.indication.has(c) || has(v.row.mark(c), quality::implausible)) continue;
      const double x = v.row.corrected(c);
      if (!peaks_.has(c) || x > peaks_[c]) peaks_.set(c, x);
    }
  }

  /// Takes the row into the newest piece.
  constexpr void keep(const verdict& v) noexcept {
    const instant t = v.row.at;
    if (pieces_.count == 0 || t - pieces_[pieces_.count - 1].from >= piece) {
      if (pieces_.count == Pieces) {
        if (state_ == state::open) whole_.merge(pieces_[0]);
        pieces_.drop_oldest();
      }
      pieces_[pieces_.count++] = part{.from = t, .to = t};
    }
    part& p = pieces_[pieces_.count - 1];
    p.to = t;
    ++p.rows;
    for (const channel c : all_channels) {
      tally& k = p.of[index_of(c)];
      if (v.row.usable(c)) {
        k.values.push(v.row.corrected(c));
        auto& before = heard_[index_of(c)];
        if (before && in_seconds(t - *before) > k.longest_gap)
          k.longest_gap = in_seconds(t - *before);
        before = t;
      } else if (v.row.indication.has(c)) {
        ++k.set_aside;
      }
      if (v.trends.has(c) && v.trends[c].is == judgement::steady && v.trends[c].measured) {
        k.noise += v.trends[c].noise_density;
        k.variance += v.trends[c].scatter * v.trends[c].scatter;
        k.weight += 1;
      }
    }
  }

  template <class Sink> constexpr void open(const verdict& v, Sink&& sink) noexcept {
    state_ = state::open;
    reading_ = {};
    reading_.declared = v.row.at;
    // The rows that prove every required channel steady: the latest of their windows' beginnings.
    std::optional<instant> since;
    for (const channel c : all_channels) {
      if (!settings_.required.contains(c) || !v.trends[c].since) continue;
      if (!since || *v.trends[c].since > *since) since = v.trends[c].since;
    }
    while (pieces_.count > 1 && since && pieces_[0].from < *since) pieces_.drop_oldest();
    whole_ = {};
    latest_ = v.trends;
    note_swing();
    summarise();
    sink(reading_);
  }

  template <class Sink> constexpr void begin_end(const verdict& v, Sink&& sink) noexcept {
    reading_.released = v.row.at;
    reading_.ended = v.why == cause::near_limits || v.why == cause::fire_seen ? cause::departed
                                                                              : v.why;
    const instant onset = v.onset.value_or(v.row.at);
    while (pieces_.count > 1 && pieces_[pieces_.count - 1].to >= onset) --pieces_.count;
    summarise();
    reading_.to = reading_.last_seen;
    pieces_ = {};
    whole_ = {};
    state_ = state::ending;
    if (reading_.ended != cause::departed) close(sink);
  }

  /// The closing reading is complete but for the cause; rows after the end are kept for the next.
  template <class Sink> constexpr void close(Sink&& sink) noexcept {
    if (state_ == state::open) {
      summarise();
      reading_.to = reading_.last_seen;
      pieces_ = {};
      whole_ = {};
    }
    sink(reading_);
    state_ = state::none;
  }

  constexpr void note_swing() noexcept {
    for (const channel c : all_channels) {
      if (!latest_.has(c) || !latest_[c].period) continue;
      if (!reading_.hunting) reading_.hunting.emplace();
      reading_.hunting->period = *latest_[c].period;
      reading_.hunting->amplitude.set(c, latest_[c].amplitude);
    }
  }

  /// Within its limits, yet going somewhere: only the newest rows say where it is now.
  constexpr void move_along_if_creeping() noexcept {
    bool creeps = false;
    for (const channel c : all_channels) {
      if (!settings_.required.contains(c) || !latest_[c].measured) continue;
      const double size = latest_[c].rate > 0 ? latest_[c].rate : -latest_[c].rate;
      const double half = latest_[c].rate_bound - size;
      if (size - half > settings_.limits.of(c) / 2) creeps = true;
      const part& oldest = whole_.rows > 0 ? whole_ : pieces_[0];
      const tally& then = oldest.of[index_of(c)];
      if (then.values.count() == 0) continue;
      const double risen = latest_[c].level - then.values.mean();
      if ((risen > 0 ? risen : -risen) > 2 * 60 * settings_.limits.of(c)) creeps = true;
    }
    reading_.creeping = creeps;
    if (!creeps) return;
    whole_ = {};
    while (pieces_.count > 1 && *newest_ - pieces_[0].to > newest_span) pieces_.drop_oldest();
  }

  constexpr void summarise() noexcept {
    part all = whole_;
    for (std::size_t i = 0; i < pieces_.count; ++i) all.merge(pieces_[i]);
    summarise(all);
  }

  constexpr void summarise(const part& all) noexcept {
    reading_.from = all.from;
    reading_.last_seen = all.to;
    for (const channel c : all_channels) {
      const tally& k = all.of[index_of(c)];
      if (k.values.count() == 0) continue;
      channel_reading r = reading_of(k, latest_.has(c) ? latest_[c] : trend_estimate{},
                                     all);
      if (peaks_.has(c)) r.peak = peaks_[c];
      reading_.channels.set(c, r);
    }
  }

  [[nodiscard]] static constexpr channel_reading reading_of(const tally& k,
                                                            const trend_estimate& now,
                                                            const part& all) noexcept {
    channel_reading r;
    const double seconds_long = in_seconds(all.to - all.from);
    const auto n = static_cast<double>(k.values.count());
    r.mean = k.values.mean();
    r.count = static_cast<std::uint32_t>(k.values.count());
    r.set_aside = k.set_aside;
    r.coverage = all.rows > 0 ? n / all.rows : 0;
    r.longest_gap = k.longest_gap;
    r.step = now.step;
    r.rate = now.rate;
    if (now.measured) r.rate_bound = now.rate_bound;
    r.remaining = now.remaining;
    double variance = k.values.variance().value_or(0) / n;  // without a trend: as if independent
    double effective = n;
    if ((k.weight > 0 || now.measured) && seconds_long > 0) {
      const double own = k.weight > 0 ? k.variance / k.weight : now.scatter * now.scatter;
      const double density = k.weight > 0 ? k.noise / k.weight : now.noise_density;
      variance = density / seconds_long;
      effective = variance > 0 ? own / variance : n;
      if (effective > n) effective = n, variance = own / n;
      if (effective < 1) effective = 1, variance = own;
      if (own < now.step * now.step / 4) variance += now.step * now.step / 12;
    } else {
      variance += now.step * now.step / 12;
    }
    r.effective_count = effective;
    r.degrees_of_freedom = now.measured ? now.noise_freedom : effective > 2 ? effective - 1 : 1;
    // Widened where the noise itself is little known, so that twice it covers what it says.
    r.standard_uncertainty = std::sqrt(variance) * coverage_factor(r.degrees_of_freedom) / 2;
    return r;
  }

  plateau_settings settings_;
  state state_ = state::none;
  settled_reading reading_{};
  std::optional<instant> newest_;
  std::array<std::optional<instant>, channel_count> heard_{};
  ring pieces_{};
  part whole_{};  // what has left the ring since the plateau was declared
  lanes<trend_estimate> latest_{};
  lanes<double> peaks_{};  // since the fire was seen
  bool burned_ = false;
};

static_assert(stage<plateau<>> && accepts<plateau<>, verdict> && accepts<plateau<>, phase_change> &&
              advances<plateau<>> && interrupts<plateau<>>);

}  // namespace stilling
