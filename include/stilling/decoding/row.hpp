// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#pragma once

#include <array>
#include <cstddef>
#include <cstdint>
#include <optional>
#include <string_view>

#include "stilling/decoding/cell.hpp"
#include "stilling/decoding/fields.hpp"
#include "stilling/decoding/number.hpp"
#include "stilling/items/assumption.hpp"
#include "stilling/items/frame.hpp"
#include "stilling/items/layout.hpp"
#include "stilling/items/record.hpp"

/// One row by its layout, in one pass. Only what the layout wants is looked at; a plain number is
/// read where it stands, everything else goes through read_cell.
namespace stilling {

/// What was wrong with a row. A fault of the whole row comes alone; a cell's leaves the others be.
struct flaw {
  fault what = fault::bad_number;
  std::uint16_t field = 0;  // counts from 1; 0: the whole row
  std::string_view seen{};
};

struct row {
  frame held;
  std::array<flaw, channel_count + 1> flaws{};
  std::uint8_t flaw_count = 0;
  bool usable = false;  // the frame may be handed on

  constexpr void add(const flaw& f) noexcept { flaws[flaw_count++] = f; }
};

class row_reader {
 public:
  constexpr row_reader() = default;
  constexpr row_reader(const layout& l, char decimal_sign) noexcept
      : layout_{l}, point_{decimal_sign != '\0' ? decimal_sign : l.separator == ',' ? '.' : '\0'} {}

  [[nodiscard]] constexpr const layout& by() const noexcept { return layout_; }

  /// `report` is given an `assumption`, each kind once.
  template <class Report> void read(std::string_view text, row& out, Report&& report) noexcept {
    out.held.indication = {};
    out.held.marks = {};
    out.flaw_count = 0;
    out.usable = false;
    position at{text.data(), text.data() + text.size()};
    if (layout_.separator == ' ') skip_blanks(at);
    bool timed = layout_.time.form == clock_form::none;
    for (const auto& wanted : layout_) {
      if (!timed && layout_.time.field < wanted.field) {
        if (!read_time(at, out)) return;
        timed = true;
      }
      if (!skip_to(wanted.field, at)) return reject(out, {fault::too_few_fields, 0, text});
      read_reading(wanted, at, out, report);
    }
    if (!timed && !read_time(at, out)) return;
    count_rest(at, text, out, report);
  }

 private:
  struct position {
    const char* p;
    const char* end;
    std::uint32_t field = 0;  // the one p stands at the front of
    bool over = false;        // the last field was read
  };

  [[nodiscard]] constexpr bool separates(char c) const noexcept {
    return c == layout_.separator || (layout_.separator == ' ' && c == '\t');
  }
  constexpr static void skip_blanks(position& at) noexcept {
    while (at.p != at.end && is_blank(*at.p)) ++at.p;
    at.over = at.p == at.end;
  }
  /// From the separator (or the end) behind a field to the front of the next one.
  constexpr void step(position& at) const noexcept {
    ++at.field;
    if (at.p == at.end) at.over = true;
    else ++at.p;
    if (layout_.separator == ' ') skip_blanks(at);
  }
  /// The field at `at`, which moves on to the next.
  constexpr std::string_view take_field(position& at, bool& quoted) const noexcept {
    field_cursor cursor{{at.p, static_cast<std::size_t>(at.end - at.p)}, layout_.separator};
    field f;
    cursor.next(f);
    quoted = f.quoted;
    at.p = at.end - cursor.left();
    ++at.field;
    at.over = !cursor.more();
    return f.text;
  }
  constexpr bool skip_to(std::uint16_t field, position& at) const noexcept {
    while (at.field < field && !at.over) {
      const char* q = at.p;
      while (q != at.end && !separates(*q) && *q != '"') ++q;
      if (q != at.end && *q == '"') [[unlikely]] {
        bool quoted = false;
        take_field(at, quoted);
      } else {
        at.p = q;
        step(at);
      }
    }
    return !at.over;
  }

  static constexpr void reject(row& out, const flaw& f) noexcept {
    out.flaw_count = 0;
    out.add(f);
  }

  /// A plain number that fills the field at `at`, read where it stands; false, and nothing moved,
  /// where the field is anything else.
  constexpr bool read_plain(position& at, char point, decimal& d,
                            std::string_view& text) const noexcept {
    const char* p = at.p;
    while (p != at.end && *p == ' ') ++p;
    const char* stop = read_decimal(p, at.end, point, d);
    if (stop == nullptr) return false;
    text = {p, static_cast<std::size_t>(stop - p)};
    if (layout_.separator != ' ')
      while (stop != at.end && *stop == ' ') ++stop;
    if (stop != at.end && !separates(*stop)) return false;
    at.p = stop;
    step(at);
    return true;
  }

  bool read_time(position& at, row& out) const noexcept {
    const auto whole = std::string_view{at.p, static_cast<std::size_t>(at.end - at.p)};
    if (!skip_to(layout_.time.field, at)) {
      reject(out, {fault::too_few_fields, 0, whole});
      return false;
    }
    decimal d;
    std::string_view text;
    std::optional<std::int64_t> ns;
    if (read_plain(at, point_ == ',' ? ',' : '.', d, text)) {
      ns = to_nanoseconds(d, layout_.time.in);
    } else {
      bool quoted = false;
      text = take_field(at, quoted);
    }
    if (!ns) {
      reject(out, {text.empty()         ? fault::no_time
                   : has_damage(text) ? fault::not_text
                                      : fault::bad_time,
                   static_cast<std::uint16_t>(layout_.time.field + 1), text});
      return false;
    }
    out.held.at = instant{duration{*ns}};
    return true;
  }

  /// `last_place`: the power of ten of the last digit written; it bounds the display's resolution.
  static constexpr void set(channel c, unit as, double x, std::int32_t last_place,
                            row& out) noexcept {
    constexpr std::array places{1.0, 0.1, 0.01, 0.001, 1e-4, 1e-5, 1e-6, 1e-7, 1e-8, 1e-9};
    out.held.indication.set(c, to_canonical(as, x));
    const bool known = last_place <= 0 && last_place > -static_cast<std::int32_t>(places.size());
    out.held.written_step[index_of(c)] =
        known ? difference_to_canonical(as, places[static_cast<std::size_t>(-last_place)]) : 0;
  }

  template <class Report>
  void read_reading(const column& wanted, position& at, row& out, Report& report) noexcept {
    decimal d;
    std::string_view text;
    if (point_ == '\0' || !read_plain(at, point_, d, text)) [[unlikely]]
      return read_odd_reading(wanted, at, out, report);
    if (const auto x = to_double(d, text, point_)) [[likely]] {
      set(wanted.measurand, wanted.as, *x, d.exponent, out);
    } else {
      out.add({fault::bad_number, static_cast<std::uint16_t>(wanted.field + 1), text});
    }
  }

  template <class Report>
  void read_odd_reading(const column& wanted, position& at, row& out, Report& report) noexcept {
    using enum cell::verdict;
    const auto number = static_cast<std::uint16_t>(wanted.field + 1);
    bool quoted = false;
    const auto text = take_field(at, quoted);
    // In quotes a comma separates nothing, so there it may be a decimal sign of its own.
    const char known = quoted && layout_.separator == ',' ? '\0' : point_;
    const auto c = read_cell(text, traits_of(wanted.measurand).kind, known);
    const auto say = [&](assumed what) {
      if (said_[static_cast<std::size_t>(what)]) return;
      said_[static_cast<std::size_t>(what)] = true;
      report(assumption{.what = what, .field = number, .seen = text});
    };
    switch (c.is) {
      case value:
        if (point_ == '\0' && c.point != '\0') point_ = c.point;
        if (c.point == ',') say(assumed::decimal_comma);
        if (c.as && *c.as != wanted.as) say(assumed::cell_unit);
        set(wanted.measurand, c.as.value_or(wanted.as), c.value, -c.decimals, out);
        return;
      case missing: return;
      case over_range:
      case under_range:
        if (c.bounded) say(assumed::bound);
        out.held.add_mark(wanted.measurand,
                          c.is == over_range ? quality::over_range : quality::under_range);
        return;
      case ambiguous: return out.add({fault::ambiguous_number, number, text});
      case damaged: return out.add({fault::not_text, number, text});
      case faulty: return out.add({fault::bad_number, number, text});
    }
  }

  template <class Report>
  void count_rest(position at, std::string_view text, row& out, Report& report) noexcept {
    for (std::uint8_t i = 0; i < out.flaw_count; ++i)
      if (out.flaws[i].what == fault::not_text) return reject(out, {fault::not_text, 0, text});
    skip_to(layout_.fields, at);
    if (at.over && at.field < layout_.fields) return reject(out, {fault::too_few_fields, 0, text});
    if (!at.over) {
      if (!trimmed({at.p, static_cast<std::size_t>(at.end - at.p)}).empty())
        return reject(out, {fault::too_many_fields, 0, text});
      auto& said = said_[static_cast<std::size_t>(assumed::trailing_separator)];
      if (!said) report(assumption{.what = assumed::trailing_separator});
      said = true;
    }
    out.usable = true;
  }

  layout layout_{};
  char point_ = '.';
  std::array<bool, assumed_count> said_{};
};

}  // namespace stilling
