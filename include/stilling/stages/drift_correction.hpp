// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#pragma once

#include <array>
#include <cstddef>
#include <optional>
#include <span>

#include "stilling/estimators/drift_line.hpp"
#include "stilling/items/bookends.hpp"
#include "stilling/items/frame.hpp"
#include "stilling/items/reading.hpp"
#include "stilling/stages/stage.hpp"

/// Corrects for what the cells drifted between two looks at fresh air. Those are known when the log
/// is over, so it is read a second time, by the same chain as live:
///
///     make_reader(s) | drift_correction{parts} | make_judge(s) | … | drift_uncertainty{parts}
///
/// The first puts the correction into its lane of each frame, beside the indication; the second
/// says in each reading how much of its mean that is, and widens its uncertainty by what the
/// correction leaves open. `parts`: one for each stretch between breaks, in their order; they must
/// outlive both. A cell without two bookends of use is let alone. Oxygen is checked where its scale
/// is high, in air, and takes its zero for granted; carbon monoxide is checked at its zero.
namespace stilling {

/// None: that cannot be corrected.
[[nodiscard]] constexpr std::optional<drift_line> drift_of(channel c,
                                                           const bookends& part) noexcept {
  if (!part.of.has(c) || !part.of[c].complete()) return std::nullopt;
  const auto& [before, after] = part.of[c];
  checked_point seen{0, before.mean, after.mean, {before.standard_uncertainty},
                     {after.standard_uncertainty}, {}};
  if (c == channel::co) {
    seen.reference = monoxide_of_air;
    return drift_line{seen, std::nullopt};
  }
  if (c != channel::o2 || !(seen.mean() > 0)) return std::nullopt;
  seen.reference = oxygen_of_air;
  seen.of_reference = rectangular(oxygen_of_air_within);
  return drift_line{std::nullopt, seen};
}

namespace detail {

/// The lines of the part under way.
class drift_of_part {
 public:
  explicit constexpr drift_of_part(std::span<const bookends> parts) noexcept : parts_{parts} {
    begin(0);
  }
  constexpr void begin(std::size_t part) noexcept {
    part_ = part;
    any_ = false;
    for (const channel c : all_channels) {
      auto& line = lines_[index_of(c)];
      line = part < parts_.size() ? drift_of(c, parts_[part]) : std::nullopt;
      any_ = any_ || line;
    }
  }
  constexpr void next() noexcept { begin(part_ + 1); }
  [[nodiscard]] constexpr bool any() const noexcept { return any_; }
  [[nodiscard]] constexpr const std::optional<drift_line>& of(channel c) const noexcept {
    return lines_[index_of(c)];
  }

 private:
  std::span<const bookends> parts_;
  std::size_t part_ = 0;
  bool any_ = false;
  std::array<std::optional<drift_line>, channel_count> lines_{};
};

}  // namespace detail

class drift_correction {
 public:
  using emits = items<frame>;
  explicit constexpr drift_correction(std::span<const bookends> parts) noexcept : known_{parts} {}

  template <class Sink> constexpr void push(const frame& f, Sink&& sink) noexcept {
    if (!known_.any()) return sink(f);
    frame out = f;
    for (const channel c : all_channels) {
      const auto& line = known_.of(c);
      if (!line || !f.indication.has(c)) continue;
      out.correction[index_of(c)] = line->corrected(f.indication[c]) - f.indication[c];
    }
    sink(out);
  }
  template <class Sink> constexpr void finish(Sink&&) noexcept { known_.begin(0); }
  template <class Sink> constexpr void interrupt(const discontinuity&, Sink&&) noexcept {
    known_.next();
  }

 private:
  detail::drift_of_part known_;
};

class drift_uncertainty {
 public:
  using emits = items<settled_reading>;
  explicit constexpr drift_uncertainty(std::span<const bookends> parts) noexcept : known_{parts} {}

  template <class Sink> constexpr void push(const settled_reading& r, Sink&& sink) noexcept {
    if (!known_.any()) return sink(r);
    settled_reading out = r;
    for (const channel c : all_channels) {
      const auto& line = known_.of(c);
      if (!line || !r.channels.has(c)) continue;
      channel_reading& x = out.channels.slots[index_of(c)];
      const double indicated = line->indicated(x.mean);
      const auto u = combine({{x.standard_uncertainty, x.degrees_of_freedom},
                              line->added_at(indicated)});
      x.correction = x.mean - indicated;
      x.standard_uncertainty = u.standard;
      x.degrees_of_freedom = u.degrees_of_freedom;
      out.drift_corrected = true;
    }
    sink(out);
  }
  template <class Sink> constexpr void finish(Sink&&) noexcept { known_.begin(0); }
  template <class Sink> constexpr void interrupt(const discontinuity&, Sink&&) noexcept {
    known_.next();
  }

 private:
  detail::drift_of_part known_;
};

static_assert(stage<drift_correction> && accepts<drift_correction, frame> &&
              interrupts<drift_correction>);
static_assert(stage<drift_uncertainty> && accepts<drift_uncertainty, settled_reading> &&
              interrupts<drift_uncertainty>);

}  // namespace stilling
