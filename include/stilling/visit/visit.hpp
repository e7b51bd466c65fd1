// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#pragma once

#include <algorithm>
#include <array>
#include <cstddef>
#include <cstdint>
#include <optional>
#include <string>
#include <variant>
#include <vector>

#include "stilling/combustion/combustion.hpp"
#include "stilling/combustion/finding.hpp"
#include "stilling/decoding/said.hpp"
#include "stilling/items/forecast.hpp"
#include "stilling/items/observation.hpp"
#include "stilling/items/reading.hpp"
#include "stilling/items/record.hpp"
#include "stilling/items/verdict.hpp"
#include "stilling/visit/comparison.hpp"
#include "stilling/visit/trace.hpp"

/// A whole test as a person does it, gathered while it happens: what was said, what was found, what
/// settled and after which move, how the channels went. A screen asks it for the newest, a report
/// for all. It may allocate; what it keeps grows with what happens, not with time.
namespace stilling {

struct noted {
  instant at{};
  std::uint64_t line = 0;
  std::string text;  // as typed, without the `#` and its time
  [[nodiscard]] said what() const noexcept { return what_was_said(text); }
};

/// From `from` on, until the next one.
struct phase_span {
  instant from{};
  std::uint64_t line = 0;
  phase in = phase::no_data;
  cause why = cause::none;
  std::optional<channel> which;
};

/// Something the rows or a reading showed, and when it became known.
struct discovery {
  instant at{};
  std::variant<observation, finding> what;
  [[nodiscard]] finding_kind kind() const noexcept {
    return std::visit([](const auto& w) { return w.what; }, what);
  }
};

/// A settled reading with what led to it.
struct settled_row : settled_state {
  std::vector<std::size_t> moves;    // into notes(): shutter, regulator; since the row before
  bool moved_unsaid = false;         // something left its level and nobody said why
  std::optional<saying> likely;      // then: what the readings say was moved, where they do
  std::optional<std::size_t> smoke;  // into notes(): the newest spot since the row before
  std::optional<comparison> since_before;
};

/// What was moved, by what changed for certain: the regulator where the draft at the breech did, by
/// more than 1 Pa, which is less than a person would set; else the shutter where O2 or CO2 did.
/// Nothing where neither did. A guess of ours: a gust or a warmer chimney moves draft too.
[[nodiscard]] constexpr std::optional<saying> likely_move(const comparison& c) noexcept {
  const auto moved = [&](channel of, double least) {
    if (!c.channels.has(of)) return false;
    const auto& d = c.channels[of];
    return d.real() && (d.value > least || d.value < -least);
  };
  if (moved(channel::draft_breech, 1.0)) return saying::adjusted_draft;
  if (moved(channel::o2, 0.001) || moved(channel::co2, 0.001)) return saying::adjusted_air;
  return std::nullopt;
}

class visit {
 public:
  visit(const fuel& burned, const derive_options& how) noexcept : burned_{&burned}, how_{how} {}

  void add(const verdict& v) {
    newest_ = v;
    trace_.push(v.row);
  }
  void add(const phase_change& p) { phases_.push_back({p.at, p.line, p.to, p.why, p.which}); }
  void add(const note& n) {
    notes_.push_back({n.at.value_or(newest_instant()), n.line, std::string{n.text}});
  }
  void add(const discontinuity& d) { breaks_.push_back(d); }
  void add(const observation& o) { found_.push_back({o.at, o}); }
  void add(instant when, const finding& f) { found_.push_back({when, f}); }
  void add(const forecast& f) { ahead_ = f; }
  /// The later word on a reading replaces the earlier.
  void add(const settled_reading& r) {
    if (settled_.empty() || settled_.back().read.declared != r.declared) settled_.emplace_back();
    settled_.back() = {r, derive(r, *burned_, how_)};
  }

  [[nodiscard]] const std::optional<verdict>& newest() const noexcept { return newest_; }
  [[nodiscard]] const std::optional<forecast>& ahead() const noexcept { return ahead_; }
  [[nodiscard]] const std::vector<phase_span>& phases() const noexcept { return phases_; }
  [[nodiscard]] const std::vector<noted>& notes() const noexcept { return notes_; }
  [[nodiscard]] const std::vector<discontinuity>& breaks() const noexcept { return breaks_; }
  [[nodiscard]] const std::vector<discovery>& found() const noexcept { return found_; }
  [[nodiscard]] const std::vector<settled_state>& settled() const noexcept { return settled_; }
  [[nodiscard]] const trace& course() const noexcept { return trace_; }
  [[nodiscard]] const fuel& burned() const noexcept { return *burned_; }

  /// Every settled reading as the outcome of an experiment: what was moved before it, and what that
  /// changed.
  [[nodiscard]] std::vector<settled_row> rows() const {
    std::vector<settled_row> out;
    std::optional<instant> since, before;  // the last reading was declared, and ended
    for (const auto& state : settled_) {
      settled_row row{state, {}, false, {}, {}, {}};
      // An open one was last heard of when it was declared, and still lasts.
      const instant end = state.read.to.value_or(std::max(state.read.last_seen, newest_instant()));
      for (std::size_t i = 0; i < notes_.size(); ++i) {
        const auto& n = notes_[i];
        if (since && n.at <= *since) continue;
        const auto what = n.what().what;
        const bool move = what == saying::adjusted_air || what == saying::adjusted_draft;
        if (move && n.at <= state.read.declared) row.moves.push_back(i);
        const bool drawn = what == saying::smoke && n.at <= end && (!before || n.at > *before);
        if (drawn) row.smoke = i;
      }
      if (!out.empty()) {
        row.since_before = compare(out.back(), row);
        row.moved_unsaid = row.moves.empty() && out.back().read.ended == cause::departed;
        if (row.moved_unsaid) row.likely = likely_move(*row.since_before);
      }
      since = state.read.declared;
      before = end;
      out.push_back(std::move(row));
    }
    return out;
  }

 private:
  [[nodiscard]] instant newest_instant() const noexcept {
    return newest_ ? newest_->row.at : instant{};
  }

  const fuel* burned_;
  derive_options how_;
  std::optional<verdict> newest_;
  std::optional<forecast> ahead_;
  std::vector<phase_span> phases_;
  std::vector<noted> notes_;
  std::vector<discontinuity> breaks_;
  std::vector<discovery> found_;
  std::vector<settled_state> settled_;
  trace trace_;
};

/// Of the newest spot; a trace is more than none and less than one.
[[nodiscard]] inline std::optional<double> smoke_number(const settled_row& row,
                                                        const visit& of) noexcept {
  if (!row.smoke) return std::nullopt;
  const auto spot = of.notes()[*row.smoke].what();
  return spot.trace ? 0.5 : spot.smoke;
}

/// What a row was judged as: spot and rate of the stack come in beside the figures.
[[nodiscard]] inline findings judge(const settled_row& row, const visit& of,
                                    const limit_set& by) noexcept {
  judge_options also;
  also.smoke = smoke_number(row, of);
  return judge(row.figures, by, also);
}

/// The row with least against it, dangers first; among equals the one with less smoke, where both
/// have a spot, then the one that keeps most heat, and among those the later one. None where
/// nothing settled.
[[nodiscard]] inline std::optional<std::size_t> best_row(const std::vector<settled_row>& rows,
                                                         const visit& of, const limit_set& by) {
  std::optional<std::size_t> best;
  std::array<std::size_t, 3> least{};
  double most_heat = 0;
  const auto smokier = [&](const settled_row& a, const settled_row& b) {
    return a.smoke && b.smoke && smoke_number(a, of) > smoke_number(b, of);
  };
  for (std::size_t i = 0; i < rows.size(); ++i) {
    std::array<std::size_t, 3> against{};
    for (const auto& f : judge(rows[i], of, by)) ++against[2 - static_cast<std::size_t>(f.grave)];
    const auto& heat = rows[i].figures[figure::efficiency_gross];
    const double kept = heat ? heat->value : 0;
    if (best && against > least) continue;
    if (best && against == least && smokier(rows[i], rows[*best])) continue;
    if (best && against == least && !smokier(rows[*best], rows[i]) && kept < most_heat) continue;
    best = i;
    least = against;
    most_heat = kept;
  }
  return best;
}

}  // namespace stilling
