// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#pragma once

#include <array>
#include <cstddef>
#include <cstdint>
#include <optional>
#include <span>
#include <vector>

#include "stilling/items/reading.hpp"
#include "stilling/items/verdict.hpp"

/// The rows of a finished log, with what the live stages said of them.
namespace stilling {

struct kept_row {
  instant at{};
  std::uint64_t line = 0;
  std::array<double, channel_count> x{};  // corrected, where usable
  channel_set usable, set_aside;
  channel_set steady;         // as judged live; not from the onset of a departure on
  phase in = phase::no_data;  // as said live
  cause why = cause::none;
  bool burning = false;
  bool swings = false;        // judged in the mean over a swing
};

/// Values of a channel side by side, seconds after the first of the rows asked for.
struct channel_series {
  std::vector<double> t, y;
  std::vector<std::size_t> row;
};

class kept_rows {
 public:
  void keep(const verdict& v) {
    kept_row r;
    r.at = v.row.at;
    r.line = v.row.line;
    r.in = v.in;
    r.why = v.why;
    r.burning = v.fire.burning;
    for (const channel c : all_channels) {
      if (v.row.usable(c)) r.usable.insert(c), r.x[index_of(c)] = v.row.corrected(c);
      else if (v.row.indication.has(c)) r.set_aside.insert(c);
      if (!v.trends.has(c)) continue;
      const trend_estimate& now = v.trends[c];
      step_[index_of(c)] = now.step;
      if (now.lag) lag_[index_of(c)] = now.lag;
      if (now.is == judgement::steady) r.steady.insert(c);
      if (now.departed) leave(c, *now.departed);
      if (!now.period) continue;
      r.swings = true;
      swing_.period = *now.period;
      swing_.amplitude.set(c, now.amplitude);
    }
    rows_.push_back(r);
  }
  void clear() { *this = {}; }

  [[nodiscard]] std::size_t size() const noexcept { return rows_.size(); }
  [[nodiscard]] const kept_row& operator[](std::size_t i) const noexcept { return rows_[i]; }
  /// Of the display, as known in the end; 0: none.
  [[nodiscard]] double step(channel c) const noexcept { return step_[index_of(c)]; }

  /// Behind the stack temperature, as known in the end, s.
  [[nodiscard]] std::optional<double> lag(channel c) const noexcept { return lag_[index_of(c)]; }

  [[nodiscard]] channel_series series(channel c, std::size_t first, std::size_t last) const {
    channel_series out;
    for (std::size_t i = first; i <= last; ++i) {
      if (!rows_[i].usable.contains(c)) continue;
      out.t.push_back(in_seconds(rows_[i].at - rows_[first].at));
      out.y.push_back(rows_[i].x[index_of(c)]);
      out.row.push_back(i);
    }
    return out;
  }

  /// Where the channel left its level, as seen live.
  [[nodiscard]] std::span<const instant> departures(channel c) const noexcept {
    return departures_[index_of(c)];
  }

  /// Which of these left nearest to `t`, within half a minute; none where none did.
  [[nodiscard]] std::optional<channel> who_left(instant t, channel_set of) const noexcept {
    std::optional<channel> who;
    duration least = seconds(30);
    for (const channel c : all_channels) {
      if (!of.contains(c)) continue;
      for (const instant onset : departures(c)) {
        const duration off = onset > t ? onset - t : t - onset;
        if (off < least) least = off, who = c;
      }
    }
    return who;
  }

  /// What the live stages found to have ended what ended after row `last`.
  [[nodiscard]] cause why_after(std::size_t last, duration naming) const noexcept {
    for (std::size_t i = last + 1; i < rows_.size(); ++i) {
      if (rows_[i].at - rows_[last].at > naming)
        return i == last + 1 ? cause::gap : cause::departed;
      switch (rows_[i].why) {
        case cause::burner_off:
        case cause::probe_out:
        case cause::diluted:
        case cause::stage_change:
        case cause::stuck: return rows_[i].why;
        default: break;
      }
    }
    return cause::departed;
  }

  /// Where most rows were judged in the mean over a swing.
  [[nodiscard]] std::optional<oscillation> swing(std::size_t first, std::size_t last) const {
    std::size_t swinging = 0;
    for (std::size_t i = first; i <= last; ++i)
      if (rows_[i].swings) ++swinging;
    if (2 * swinging <= last - first + 1) return std::nullopt;
    return swing_;
  }

 private:
  void leave(channel c, instant onset) {
    departures_[index_of(c)].push_back(onset);
    for (std::size_t i = rows_.size(); i-- > 0 && rows_[i].at >= onset;) rows_[i].steady.erase(c);
  }

  std::vector<kept_row> rows_;
  std::array<std::vector<instant>, channel_count> departures_;
  std::array<double, channel_count> step_{};
  std::array<std::optional<double>, channel_count> lag_{};
  oscillation swing_{};
};

}  // namespace stilling
