// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#pragma once

#include <array>
#include <cstddef>
#include <cstdint>
#include <optional>
#include <string_view>

#include "stilling/decoding/clock_format.hpp"
#include "stilling/decoding/fields.hpp"
#include "stilling/decoding/number.hpp"
#include "stilling/decoding/stamp.hpp"
#include "stilling/decoding/written_number.hpp"
#include "stilling/items/assumption.hpp"
#include "stilling/items/layout.hpp"
#include "stilling/terms/decoder_settings.hpp"

/// From the text of a time column to an instant. What a stamp leaves out (year, date, zone, unit of
/// a bare number) comes from the settings or from the stamps before it, and is said.
namespace stilling {

class log_clock {
 public:
  constexpr log_clock() = default;
  constexpr explicit log_clock(const time_column& c) noexcept
      : column_{c}, open_{c.form == clock_form::open || c.form == clock_form::stamp} {}

  /// The instant at the front of `text` and how many letters it takes. `report` is given an
  /// `assumption`, each kind once.
  struct reading {
    instant at{};
    std::size_t length = 0;
  };
  template <class Report>
  [[nodiscard]] constexpr std::optional<reading> read(std::string_view text,
                                                      const decoder_settings& s,
                                                      Report&& report) noexcept {
    decimal d;
    const char* const first = text.data();
    const char* const stop = read_decimal(first, first + text.size(), point_of(text), d);
    const auto digits = stop == nullptr ? std::size_t{0} : static_cast<std::size_t>(stop - first);
    const bool whole = digits > 0 && digits == text.size();
    // A number alone is no stamp; with more behind it, it may begin one: 31 Dec 2026.
    if (open_ && (!whole || !s.time_format.empty())) {
      const auto found =
          s.time_format.empty() ? read_stamp(text, order_) : read_stamp(text, s.time_format.view());
      if (found) {
        const auto at = place(found->shows, text, s, report);
        return at ? std::optional{reading{*at, found->length}} : std::nullopt;
      }
      const bool bare = digits > 0 && digits < text.size() && is_blank(text[digits]);
      if (!s.time_format.empty() || (column_.form != clock_form::number && !bare))
        return std::nullopt;
    }
    if (stop == nullptr) return std::nullopt;
    return number(d, text, digits, report);
  }

  /// Once a bare number was seen in a column without a unit, the unit it was taken for.
  [[nodiscard]] constexpr const time_column& column() const noexcept { return column_; }

 private:
  template <class Report> constexpr void say(assumed what, std::string_view seen,
                                             std::string_view taken, Report& report) noexcept {
    auto& said = said_[static_cast<std::size_t>(what)];
    if (!said) report(assumption{.what = what, .seen = seen, .taken = taken});
    said = true;
  }

  /// Three digits behind a lone comma leave a doubt, so there it is none.
  [[nodiscard]] static constexpr char point_of(std::string_view text) noexcept {
    const auto comma = text.find(',');
    if (comma == std::string_view::npos ||
        text.find_first_not_of("+-0123456789,") != std::string_view::npos)
      return '.';
    return signs_of(text, '\0').is == number_signs::verdict::clear ? ',' : '.';
  }

  /// Seconds since 1970 have had nine or more digits before the point since 1973, milliseconds
  /// twelve, and so on: these ranges do not meet before the year 5138.
  [[nodiscard]] static constexpr std::uint64_t size_of(const decimal& d) noexcept {
    std::uint64_t n = d.digits;
    for (auto e = d.exponent; e < 0 && n != 0; ++e) n /= 10;
    for (auto e = d.exponent; e > 0 && n != 0 && n < 100'000'000'000'000'000U; --e) n *= 10;
    return n;
  }

  /// A stamp that cannot be read decides nothing: not the unit, and not that stamps are numbers.
  template <class Report>
  constexpr std::optional<reading> number(const decimal& d, std::string_view seen,
                                          std::size_t digits, Report& report) noexcept {
    using enum time_unit;
    auto ns = column_.form == clock_form::number ? to_nanoseconds(d, column_.in) : std::nullopt;
    if (!ns && open_) {
      const auto n = size_of(d);
      const auto in = n >= 100'000'000'000'000'000U ? nanosecond
                      : n >= 100'000'000'000'000U   ? microsecond
                      : n >= 100'000'000'000U       ? millisecond
                                                    : second;
      ns = to_nanoseconds(d, in);
      if (!ns) return std::nullopt;
      column_.form = clock_form::number;
      column_.in = in;
      say(n >= 100'000'000U ? assumed::epoch : assumed::time_in_seconds, seen, name_of(in), report);
    }
    return ns ? std::optional{reading{instant{duration{*ns}}, digits}} : std::nullopt;
  }

  template <class Report> constexpr std::optional<instant> place(civil c, std::string_view seen,
                                                                 const decoder_settings& s,
                                                                 Report& report) noexcept {
    if (!c.has_date) c.year = 1970;
    else if (!c.has_year) c.year = started_ ? year_ : s.year.value_or(2000);
    auto wall = wall_seconds(c);
    if (!wall) return std::nullopt;
    if (!c.has_date) *wall = near(*wall, 86'400, 3'600);
    if (c.has_date && !c.has_year && started_) {
      // A step back of more than a month is a new year, a step on of nearly a year an old one.
      constexpr std::int64_t month = std::int64_t{31} * 86'400;
      constexpr std::int64_t year = std::int64_t{365} * 86'400;
      if (*wall < wall_ - month) ++c.year;
      else if (*wall > wall_ + year - month) --c.year;
      wall = wall_seconds(c);
      if (!wall) return std::nullopt;
    }
    std::int64_t utc = *wall;
    if (c.has_offset) {
      utc -= c.offset;
    } else if (s.zone_offsets_at != nullptr) {
      const auto z = s.zone_offsets_at(s.zone, *wall);
      utc = *wall - z.earlier;
      if (z.earlier != z.later && started_ && utc < utc_ && *wall - z.later >= utc_) {
        utc = *wall - z.later;
        say(assumed::fold, seen, {}, report);
      }
    }
    const auto at = instant_of(utc, c.nanosecond);
    if (!at) return at;
    if (c.day_first) say(assumed::day_first, seen, {}, report);
    if (c.month_first) say(assumed::month_first, seen, {}, report);
    if (!c.has_date)
      say(assumed::date, seen, "1970-01-01 for the first row, later dates by the rows' order",
          report);
    else if (!c.has_year && !s.year) say(assumed::year, seen, "2000 for the first row", report);
    if (!c.has_offset && s.zone_offsets_at == nullptr) say(assumed::utc, seen, {}, report);
    started_ = true, wall_ = *wall, utc_ = utc, year_ = c.year;
    if (c.month_first) order_ = date_order::month_first;
    else if (c.day_first) order_ = date_order::day_first;
    return at;
  }

  /// The wall time nearest after the newest one among those a whole number of periods away, or
  /// before it by at most `back`.
  [[nodiscard]] constexpr std::int64_t near(std::int64_t wall, std::int64_t period,
                                            std::int64_t back) const noexcept {
    if (!started_) return wall;
    const auto behind = wall_ - back - wall;
    auto periods = behind / period;
    if (behind % period > 0) ++periods;
    return wall + periods * period;
  }

  time_column column_{};
  std::array<bool, assumed_count> said_{};
  std::int64_t wall_ = 0;  // of the newest stamp
  std::int64_t utc_ = 0;
  std::int32_t year_ = 0;
  date_order order_ = date_order::open;
  bool open_ = false;  // numbers or stamps: each says so itself
  bool started_ = false;
};

}  // namespace stilling
