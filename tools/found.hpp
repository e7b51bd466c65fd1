// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#pragma once

#include <algorithm>
#include <optional>
#include <vector>

#include "stilling/combustion/finding.hpp"
#include "stilling/items/verdict.hpp"
#include "stilling/stages/stage.hpp"
#include "stilling/text.hpp"

// What has been found so far, so that each finding is told once while it lasts.

namespace stilling::command {

class told_findings {
 public:
  /// Tells what is new about a plateau; its closing reading is held against the limits again. That
  /// it is settled was decided by the criterion that was asked for.
  template <class Tell>
  void judge_reading(const settled_reading& r, const presentation& as, Tell tell) {
    if (declared_ != r.declared) told_.clear();
    declared_ = r.declared;
    const instant when = r.to ? r.released.value_or(*r.to) : r.declared;
    for (const auto& f : judge(derive(r, *as.burned, as.how), as.limits)) {
      if (std::ranges::find(told_, f.what) != told_.end()) continue;
      told_.push_back(f.what);
      tell(when, f);
    }
  }

  /// CO that people must hear of at once; again only after a minute without.
  template <class Tell>
  void watch_monoxide(const verdict& v, const presentation& as, Tell tell) {
    const auto f = alarm_in(v.row, v.in, as.limits);
    if (!f) return;
    const bool again = alarmed_ && v.row.at - *alarmed_ < seconds(60) && f->grave <= gravest_;
    alarmed_ = v.row.at;
    if (again) return;
    gravest_ = f->grave;
    tell(v.row.at, *f);
  }

 private:
  std::optional<instant> declared_;
  std::vector<finding_kind> told_;
  std::optional<instant> alarmed_;
  severity gravest_ = severity::note;
};

/// Lets verdicts through and looks at each.
template <class Look> class look_at_verdicts {
 public:
  using emits = items<verdict>;
  explicit look_at_verdicts(Look look) noexcept : look_{look} {}
  template <class Sink> void push(const verdict& v, Sink&& sink) noexcept {
    look_(v);
    sink(v);
  }
  template <class Sink> void finish(Sink&&) noexcept {}

 private:
  Look look_;
};

}  // namespace stilling::command
