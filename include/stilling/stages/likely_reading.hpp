// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#pragma once

#include <optional>

#include "stilling/estimators/drift_line.hpp"
#include "stilling/items/bookends.hpp"
#include "stilling/items/observation.hpp"
#include "stilling/items/reading.hpp"
#include "stilling/stages/stage.hpp"

/// Where a cell was found off in fresh air (`practice`), each settled reading is followed by what
/// it would likely be: CO with its zero put right, O2 scaled to what air holds, and, as one look at
/// one gas cannot tell the two apart, what O2 would be were its whole scale shifted. The reading
/// itself stays as it was measured; one that was corrected for drift needs none of this. Once for a
/// plateau, until a break.
namespace stilling {

class likely_reading {
 public:
  using emits = items<settled_reading, observation>;

  template <class Sink> constexpr void push(const observation& o, Sink&& sink) noexcept {
    if (o.value && o.what == finding_kind::oxygen_cell_tired) oxygen_ = o;
    if (o.value && o.what == finding_kind::zeroed_in_dirty_air) monoxide_ = o;
    sink(o);
  }

  template <class Sink> constexpr void push(const settled_reading& r, Sink&& sink) noexcept {
    const bool is_new = declared_ != r.declared;
    declared_ = r.declared;
    sink(r);
    if (!is_new) return;
    if (oxygen_) tell(*oxygen_, r, sink);
    if (monoxide_) tell(*monoxide_, r, sink);
  }

  template <class Sink> constexpr void finish(Sink&&) noexcept { *this = likely_reading{}; }

 private:
  template <class Sink>
  static constexpr void tell(const observation& seen, const settled_reading& r,
                             Sink& sink) noexcept {
    const channel_reading& x = r.channels[seen.of];
    if (!r.channels.has(seen.of) || x.correction) return;
    const bool is_oxygen = seen.of == channel::o2;
    const double right = is_oxygen ? oxygen_of_air : monoxide_of_air;
    auto point =
        checked_point::seen_once(right, *seen.value, {seen.standard_uncertainty.value_or(0)});
    if (is_oxygen) point.of_reference = rectangular(oxygen_of_air_within);
    if (is_oxygen && !(*seen.value > 0)) return;
    const auto line = is_oxygen ? drift_line{std::nullopt, point} : drift_line{point, std::nullopt};
    observation o{r.declared, 0, seen.what, seen.of, false, line.corrected(x.mean),
                  combine({{x.standard_uncertainty}, line.added_at(x.mean)}).standard, {}, {}, 0};
    o.indicated = x.mean;
    if (is_oxygen) o.otherwise = x.mean + right - *seen.value;
    sink(o);
  }

  std::optional<observation> oxygen_, monoxide_;
  std::optional<instant> declared_;
};

static_assert(stage<likely_reading> && accepts<likely_reading, settled_reading> &&
              accepts<likely_reading, observation>);

}  // namespace stilling
