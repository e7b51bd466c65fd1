// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#pragma once

#include <optional>

#include "stilling/items/frame.hpp"
#include "stilling/items/layout.hpp"

/// Notices an instrument that was switched from one temperature scale to the other in mid-log while
/// the header stands: from one row to the next both temperatures move as x -> (x - 32)/1.8 or back,
/// and O2 stands still. No burner does that. The bounds are judgement, no published source.
namespace stilling {

class unit_switch {
 public:
  /// The layout as the log speaks from this row on; none where nothing points to a switch.
  [[nodiscard]] constexpr std::optional<layout> find(const frame& f, const layout& l) noexcept {
    const auto before = before_;
    before_ = f.indication;
    if (!before.has(channel::stack_temp) || !f.indication.has(channel::stack_temp)) return {};
    const double step = f.indication[channel::stack_temp] - before[channel::stack_temp];
    if (step < least_step && step > -least_step) [[likely]]
      return {};
    const auto other = switched(l);
    if (!other || !stays(before, f, channel::o2, 0.005)) return {};
    const auto seen = in_units(f, l, *other);
    if (!stays(before, seen, channel::stack_temp, 3) ||
        !stays(before, seen, channel::ambient_temp, 1.5))
      return {};
    before_ = seen.indication;
    return other;
  }

  /// The frame, had its numbers been read in the other layout's units.
  [[nodiscard]] static constexpr frame in_units(frame f, const layout& from,
                                                const layout& to) noexcept {
    for (std::size_t i = 0; i < from.count; ++i) {
      const auto c = from.columns[i];
      if (!f.indication.has(c.measurand)) continue;
      const auto as = to.columns[i].as;
      f.indication.set(c.measurand,
                       to_canonical(as, from_canonical(c.as, f.indication[c.measurand])));
      auto& step = f.written_step[index_of(c.measurand)];
      step = difference_to_canonical(as, difference_from_canonical(c.as, step));
    }
    return f;
  }

 private:
  static constexpr double least_step = 30;  // K; a stack at 60 degC seen in the other scale

  /// Both temperatures in the other scale; none unless both are there, in one of the two.
  [[nodiscard]] static constexpr std::optional<layout> switched(layout l) noexcept {
    int turned = 0;
    for (std::size_t i = 0; i < l.count; ++i) {
      auto& as = l.columns[i].as;
      if (as == unit::fahrenheit) as = unit::celsius, ++turned;
      else if (as == unit::celsius) as = unit::fahrenheit, ++turned;
    }
    return turned == 2 ? std::optional{l} : std::nullopt;
  }
  [[nodiscard]] static constexpr bool stays(const lanes<double>& before, const frame& f, channel c,
                                            double within) noexcept {
    if (!before.has(c) || !f.indication.has(c)) return false;
    const double step = f.indication[c] - before[c];
    return step < within && step > -within;
  }

  lanes<double> before_{};
};

}  // namespace stilling
