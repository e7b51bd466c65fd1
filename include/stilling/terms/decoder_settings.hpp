// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#pragma once

#include <array>
#include <cstddef>
#include <cstdint>
#include <optional>
#include <string_view>

#include "stilling/terms/channel.hpp"
#include "stilling/terms/short_text.hpp"
#include "stilling/terms/time.hpp"
#include "stilling/terms/unit.hpp"

/// What the caller knows about a log that the log does not say itself. All of it is optional: a log
/// in the canonical form needs none.
namespace stilling {

/// A column (or the label of a value) by the name it has in the log, and what it is.
struct column_rule {
  short_text<64> name{};
  short_text<32> clock_name{};  // where date and clock stand apart: the clock's name
  bool is_time = false;
  channel measurand = channel::stack_temp;
  std::optional<unit> as{};       // none: as the log's own name, units row or cells say
  std::optional<time_unit> in{};  // none: calendar and clock, or as the log says
  friend constexpr bool operator==(const column_rule&, const column_rule&) = default;
};

/// The seam to a time zone database, which is too large for a header: seconds east of UTC at a
/// local time. The two differ in the hour that comes twice when clocks go back (`earlier` is the
/// offset of its first pass). In the hour that is skipped both are the offset before it.
struct zone_offsets {
  std::int32_t earlier = 0;
  std::int32_t later = 0;
};
using zone_rule = zone_offsets (*)(const void* zone, std::int64_t local_seconds) noexcept;
struct zone_seam {
  zone_rule offsets_at = nullptr;
  const void* zone = nullptr;
  friend constexpr bool operator==(const zone_seam&, const zone_seam&) = default;
};

struct decoder_settings {
  /// Names of the positions of a log without a header, `-` for one to skip:
  /// `time_s,stack_temp_degF,-,o2_pct`.
  short_text<512> fields{};
  /// Foreign names; the first `rule_count` are used.
  std::array<column_rule, 12> rules{};
  std::uint8_t rule_count = 0;
  /// Values carry labels (`T=471F O2=5.2%`), which the rules name.
  bool labelled = false;
  /// Between fields; '\0': as the header or the first row shows. ' ' stands for runs of blanks.
  char separator = '\0';
  /// '.' or ','; '\0': as the cells show.
  char decimal_sign = '\0';
  /// Numbers that stand for "no value", in the log's units; the first `missing_count` are used.
  std::array<double, 8> missing{};
  std::uint8_t missing_count = 0;
  /// Spacing of a log without a time column, from 0; above 0.
  std::optional<duration> interval{};
  /// How calendar and clock are written, in the letters of strftime; empty: the forms that leave no
  /// doubt.
  short_text<48> time_format{};
  /// Of dates without one; none: 2000, and it is said.
  std::optional<std::int32_t> year{};
  /// Of stamps without an offset; none: UTC, and it is said.
  zone_rule zone_offsets_at = nullptr;
  const void* zone = nullptr;
  /// Draft columns show suction as a positive number.
  bool suction_positive = false;
  /// The stream was joined while it ran: its first line may lack its beginning.
  bool joined = false;

  [[nodiscard]] constexpr zone_seam seam() const noexcept { return {zone_offsets_at, zone}; }
  constexpr void set_seam(const zone_seam& s) noexcept {
    zone_offsets_at = s.offsets_at;
    zone = s.zone;
  }
  constexpr bool add(const column_rule& r) noexcept {
    if (rule_count == rules.size()) return false;
    rules[rule_count++] = r;
    return true;
  }
  [[nodiscard]] constexpr bool is_missing(double x) const noexcept {
    for (std::size_t i = 0; i < missing_count; ++i)
      if (missing[i] == x) return true;
    return false;
  }
};

}  // namespace stilling
