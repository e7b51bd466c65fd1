// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#pragma once

#include <array>
#include <cstddef>
#include <cstdint>
#include <string_view>

#include "stilling/decoding/cell.hpp"
#include "stilling/decoding/fields.hpp"
#include "stilling/decoding/row.hpp"
#include "stilling/items/layout.hpp"
#include "stilling/terms/decoder_settings.hpp"

/// Cells to lanes: what a cell says, in the canonical unit, with the mark or the flaw it carries.
/// Remembers the decimal sign once a cell has shown it.
namespace stilling {

class reading_reader {
 public:
  constexpr reading_reader() = default;
  /// Between commas a number cannot hold one, so there the sign is known from the start.
  constexpr reading_reader(const layout& l, const decoder_settings& s) noexcept
      : point_{s.decimal_sign != '\0'              ? s.decimal_sign
               : l.separator == ',' && !l.labelled ? '.'
                                                   : '\0'} {}

  /// '\0' until a cell has shown it.
  [[nodiscard]] constexpr char point() const noexcept { return point_; }

  /// A number outside the readings has shown it.
  constexpr void learn(char point) noexcept { point_ = point; }

  /// In quotes a comma separates nothing, so there it may be a decimal sign of its own.
  [[nodiscard]] static constexpr bool is_apart(const field& f, char separator,
                                               const decoder_settings& s) noexcept {
    return f.quoted && separator == ',' && s.decimal_sign == '\0';
  }

  template <class Report> constexpr void say(const assumption& a, Report& report) noexcept {
    said_.say(a, report);
  }

  /// `last_place`: the power of ten of the last digit written; it bounds the display's resolution.
  constexpr void put(const column& to, unit as, double x, std::int32_t last_place,
                     const decoder_settings& s, row& out) const noexcept {
    constexpr std::array places{1.0, 0.1, 0.01, 0.001, 1e-4, 1e-5, 1e-6, 1e-7, 1e-8, 1e-9};
    if (s.missing_count > 0 && s.is_missing(x)) return;
    const bool turned =
        s.suction_positive && traits_of(to.measurand).kind == quantity::pressure_difference;
    out.held.indication.set(to.measurand, to_canonical(as, turned ? -x : x));
    const bool known = last_place <= 0 && last_place > -static_cast<std::int32_t>(places.size());
    out.held.written_step[index_of(to.measurand)] =
        known ? difference_to_canonical(as, places[static_cast<std::size_t>(-last_place)]) : 0;
  }

  template <class Report> void read(const field& f, const column& to, char separator,
                                    const decoder_settings& s, row& out, Report& report) noexcept {
    using enum cell::verdict;
    const auto number = static_cast<std::uint16_t>(to.field + 1);
    const bool apart = is_apart(f, separator, s);
    const auto c = read_cell(f.text, traits_of(to.measurand).kind, apart ? '\0' : point_);
    switch (c.is) {
      case value:
        if (point_ == '\0') point_ = c.point;
        if (c.point == ',')
          say({.what = assumed::decimal_comma, .field = number, .seen = f.text}, report);
        if (c.grouped) say({.what = assumed::thousands, .field = number, .seen = f.text}, report);
        if (c.as && *c.as != to.as)
          say({.what = assumed::cell_unit, .field = number, .seen = f.text}, report);
        return put(to, c.as.value_or(to.as), c.value, -c.decimals, s, out);
      case missing: return;
      case over_range:
      case under_range:
        if (c.bounded) say({.what = assumed::bound, .field = number, .seen = f.text}, report);
        return out.held.add_mark(to.measurand,
                                 c.is == over_range ? quality::over_range : quality::under_range);
      case ambiguous: return out.add({fault::ambiguous_number, number, f.text});
      case damaged: return out.add({fault::not_text, number, f.text});
      case faulty: return out.add({fault::bad_number, number, f.text});
    }
  }

 private:
  char point_ = '.';
  said_once said_{};
};

}  // namespace stilling
