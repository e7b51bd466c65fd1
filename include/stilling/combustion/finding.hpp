// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#pragma once

#include <array>
#include <cstddef>
#include <optional>
#include <string_view>

#include "stilling/combustion/advice.hpp"
#include "stilling/combustion/derived.hpp"
#include "stilling/combustion/limits.hpp"
#include "stilling/combustion/smoke.hpp"
#include "stilling/items/frame.hpp"
#include "stilling/items/reading.hpp"
#include "stilling/items/verdict.hpp"

/// judge(): what was read and derived, held against limits. A function: it remembers nothing. The
/// words for a finding are advice_on(finding.what); `precedence` goes with every list of them.
namespace stilling {

struct finding {
  finding_kind what = finding_kind::co_high;
  severity grave = severity::note;
  subject of = channel::co;
  std::optional<double> value;      // canonical unit; none: over the instrument's range
  double standard_uncertainty = 0;  // k = 1
  double limit = 0;
  bool straddles = false;           // the limit lies within the expanded uncertainty (k = 2)
  std::string_view basis;
  std::string_view key;             // of the limit that spoke

  /// How far the value is inside the limit: negative, since it is past it; unknown with the value.
  [[nodiscard]] constexpr std::optional<double> margin() const noexcept {
    if (!value) return std::nullopt;
    return *value < limit ? *value - limit : limit - *value;
  }
  friend constexpr bool operator==(const finding&, const finding&) = default;
};

/// Findings in the order of the limits: what endangers people comes first.
class findings {
 public:
  static constexpr std::size_t capacity = limit_set::count + 2;
  constexpr void push(const finding& f) noexcept {
    if (count_ < capacity) rows_[count_++] = f;
  }
  [[nodiscard]] constexpr const finding* begin() const noexcept { return rows_.data(); }
  [[nodiscard]] constexpr const finding* end() const noexcept { return begin() + count_; }
  [[nodiscard]] constexpr std::size_t size() const noexcept { return count_; }
  [[nodiscard]] constexpr bool empty() const noexcept { return count_ == 0; }
  [[nodiscard]] constexpr const finding* find(finding_kind k) const noexcept {
    for (const auto& f : *this) {
      if (f.what == k) return &f;
    }
    return nullptr;
  }

 private:
  std::array<finding, capacity> rows_{};
  std::size_t count_ = 0;
};

struct judge_options {
  std::optional<double> smoke = {};     // smoke number
  bool absorption_kit = false;          // CO2 was read by a chemical-absorption kit
  std::optional<double> stack_rate = {};  // upper bound of |rate|, K/s
};

namespace judging {

/// Decimal inputs are not exact in binary: -0.070 less -0.020 is not quite -0.050. A part in 1e9 is
/// far below any display.
[[nodiscard]] constexpr bool is_past(side when, double x, double limit) noexcept {
  const double size = limit < 0 ? -limit : limit;
  const double slack = 1e-9 * size;
  switch (when) {
    case side::below: return x < limit - slack;
    case side::above: return x > limit + slack;
    case side::at_or_above: return x >= limit - slack;
    case side::magnitude_above: return (x < 0 ? -x : x) > size + slack;
  }
  return false;
}

[[nodiscard]] constexpr std::optional<estimate> look_at(const subject& of, const combustion& y,
                                                        const judge_options& also) noexcept {
  if (const auto* c = std::get_if<channel>(&of)) {
    if (!y.inputs.has(*c)) return std::nullopt;
    return y.inputs[*c];
  }
  if (const auto* f = std::get_if<figure>(&of)) {
    if (!y[*f]) return std::nullopt;
    return estimate{y[*f]->value, y[*f]->standard_uncertainty};
  }
  const auto& said = std::holds_alternative<smoke_spot>(of) ? also.smoke : also.stack_rate;
  if (!said) return std::nullopt;
  return estimate{*said, 0};
}

[[nodiscard]] constexpr finding made(const limit& by, const estimate& x, double at) noexcept {
  const double past = x.value < at ? at - x.value : x.value - at;
  return {by.finds, by.grave, by.of,
          x.value,  x.standard_uncertainty, at,
          past < 2 * x.standard_uncertainty, by.basis, by.key};
}

/// O2 and CO2 against each other: off by more than the limit and by more than their uncertainty.
[[nodiscard]] inline std::optional<finding> wrong_fuel(const limit& by,
                                                       const combustion& y) noexcept {
  const auto& is = y[figure::fuel_factor];
  const auto& expected = y[figure::fuel_factor_expected];
  if (!is || !expected) return std::nullopt;
  const uncertain off = is->parts / expected->parts - 1.0;
  const double size = off.value < 0 ? -off.value : off.value;
  if (size <= *by.value || size <= 2 * off.standard_uncertainty()) return std::nullopt;
  const double at = expected->value * (off.value < 0 ? 1 - *by.value : 1 + *by.value);
  return made(by, {is->value, is->standard_uncertainty}, at);
}

[[nodiscard]] inline std::optional<finding> condensing(const combustion& y) noexcept {
  const auto& dew = y[figure::dew_point];
  if (!dew || !y.inputs.has(channel::stack_temp)) return std::nullopt;
  const auto& stack = y.inputs[channel::stack_temp];
  if (!(stack.value < dew->value)) return std::nullopt;
  const limit by{"dew_point", finding_kind::condensing, channel::stack_temp, side::below, {},
                 severity::note, "water dew point, IAPWS-IF97, from the fuel's composition"};
  return made(by, stack, dew->value);
}

}  // namespace judging

/// What was read (combustion.inputs) and derived, against the limits.
[[nodiscard]] inline findings judge(const combustion& y, const limit_set& limits = residential_oil,
                                    const judge_options& also = {}) noexcept {
  findings all;
  bool co_is_danger = false;  // one finding on the flue's CO, the gravest
  for (const auto& by : limits) {
    const bool kit = by.only == applies::to_absorption_kit;
    const bool other_way = kit != also.absorption_kit && by.only != applies::always;
    if (!by.value || by.only == applies::to_room_air || other_way) continue;
    if (by.finds == finding_kind::wrong_fuel_likely) {
      if (const auto f = judging::wrong_fuel(by, y)) all.push(*f);
      continue;
    }
    const auto x = judging::look_at(by.of, y, also);
    if (!x || !judging::is_past(by.when, x->value, *by.value)) continue;
    const bool co = by.of == subject{channel::co};
    if (co && co_is_danger) continue;
    all.push(judging::made(by, *x, by.when == side::magnitude_above && x->value < 0 ? -*by.value
                                                                                   : *by.value));
    co_is_danger = co_is_danger || (co && by.grave == severity::danger);
  }
  if (const auto f = judging::condensing(y)) all.push(*f);
  return all;
}

/// The same for a settled reading: also whether it still moves too fast to count.
[[nodiscard]] inline findings judge(const settled_reading& r, const combustion& y,
                                    const limit_set& limits = residential_oil,
                                    judge_options also = {}) noexcept {
  if (r.channels.has(channel::stack_temp) && r.channels[channel::stack_temp].rate_bound) {
    also.stack_rate = r.channels[channel::stack_temp].rate_bound;
  }
  return judge(y, limits, also);
}

/// CO that must be told at once, row by row: in the flue what is dangerous, in room air (the probe
/// in fresh air) the gravest limit reached. Outliers count, and so does "over range", without a
/// value: better one alarm too many.
[[nodiscard]] inline std::optional<finding> alarm_in(
    const frame& f, phase in, const limit_set& limits = residential_oil) noexcept {
  const bool over = has(f.mark(channel::co), quality::over_range);
  if (!over && !f.indication.has(channel::co)) return std::nullopt;
  const bool room = in == phase::fresh_air;
  for (const auto& by : limits) {
    if (!by.value || by.of != subject{channel::co}) continue;
    if (room ? by.only != applies::to_room_air
             : by.only != applies::always || by.grave != severity::danger) {
      continue;
    }
    const double indicated = f.indication[channel::co], corrected = f.corrected(channel::co);
    const double x = corrected > indicated ? corrected : indicated;  // no alarm is corrected away
    if (!over && !judging::is_past(by.when, x, *by.value)) continue;
    finding found = judging::made(by, {x, 0}, *by.value);
    if (over) found.value.reset();
    return found;
  }
  return std::nullopt;
}

}  // namespace stilling
