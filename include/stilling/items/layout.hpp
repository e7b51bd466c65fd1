// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#pragma once

#include <array>
#include <cstddef>
#include <cstdint>
#include <type_traits>

#include "stilling/terms/channel.hpp"
#include "stilling/terms/unit.hpp"

/// Which field of a row holds what, in which unit. The decoder hands it on whenever one takes
/// effect, so that results can be written in the units the log came in.
namespace stilling {

struct column {
  std::uint16_t field = 0;  // counts from 0
  channel measurand = channel::stack_temp;
  unit as = unit::kelvin;
  friend constexpr bool operator==(const column&, const column&) = default;
};

/// How a row says when it was taken.
enum class clock_form : std::uint8_t {
  none,    // it does not: the settings give the interval
  number,  // plain numbers of `in`
  open,    // the column names no unit: the first stamp decides
  stamp,   // calendar and clock, ISO 8601 or as the settings say
};

struct time_column {
  clock_form form = clock_form::none;
  time_unit in = time_unit::second;
  std::uint16_t field = 0;   // counts from 0
  std::uint16_t second = 0;  // where date and clock stand apart: the clock; else equal to `field`
  friend constexpr bool operator==(const time_column&, const time_column&) = default;
};

struct layout {
  std::array<column, channel_count> columns{};  // by rising field; the first `count` are used
  std::uint8_t count = 0;
  time_column time{};
  std::uint16_t fields = 0;  // in a row; 0: labelled cells in any number
  char separator = ',';      // ' ': runs of blanks
  bool labelled = false;     // cells say themselves what they are: T=471F

  [[nodiscard]] constexpr const column* begin() const noexcept { return columns.data(); }
  [[nodiscard]] constexpr const column* end() const noexcept { return columns.data() + count; }

  /// Null where the log has no such column.
  [[nodiscard]] constexpr const column* find(channel c) const noexcept {
    for (const auto& x : *this)
      if (x.measurand == c) return &x;
    return nullptr;
  }
  /// The log's own unit of a channel; canonical where it has no such column.
  [[nodiscard]] constexpr unit unit_of(channel c) const noexcept {
    const auto* x = find(c);
    return x != nullptr ? x->as : canonical_unit(traits_of(c).kind);
  }
  /// Keeps the order of fields; false where the channel is there already.
  constexpr bool insert(column c) noexcept {
    if (find(c.measurand) != nullptr) return false;
    std::size_t at = count++;
    for (; at > 0 && columns[at - 1].field > c.field; --at) columns[at] = columns[at - 1];
    columns[at] = c;
    return true;
  }
  friend constexpr bool operator==(const layout&, const layout&) = default;
};

static_assert(std::is_trivially_copyable_v<layout>);

}  // namespace stilling
