// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#pragma once

#include <cstddef>
#include <cstdint>
#include <optional>
#include <string_view>

#include "stilling/decoding/cell.hpp"
#include "stilling/decoding/fields.hpp"
#include "stilling/decoding/log_clock.hpp"
#include "stilling/decoding/number.hpp"
#include "stilling/decoding/reading.hpp"
#include "stilling/decoding/row.hpp"
#include "stilling/items/layout.hpp"
#include "stilling/terms/decoder_settings.hpp"

/// One row by its layout, in one pass. Only what the layout wants is looked at; a plain number is
/// read where it stands, everything else goes through read_cell.
namespace stilling {

class row_reader {
 public:
  constexpr row_reader() = default;
  constexpr row_reader(const layout& l, const decoder_settings& s) noexcept
      : layout_{l}, clock_{l.time}, readings_{l, s} {}

  [[nodiscard]] constexpr const layout& by() const noexcept { return layout_; }
  [[nodiscard]] constexpr const log_clock& clock() const noexcept { return clock_; }
  /// Another unit from here on, the columns the same.
  constexpr void speak(const layout& l) noexcept { layout_ = l; }

  /// `report` is given an `assumption`, each kind once.
  template <class Report>
  void read(std::string_view text, const decoder_settings& s, row& out, Report&& report) noexcept {
    out.clear();
    position at{text.data(), text.data() + text.size()};
    if (layout_.separator == ' ') skip_blanks(at);
    bool timed = layout_.time.form == clock_form::none;
    if (!timed && layout_.time.form != clock_form::number) {
      if (!read_stamp_field(text, s, out, report)) return;
      timed = true;
    }
    for (const auto& wanted : layout_) {
      if (!timed && layout_.time.field < wanted.field) {
        if (!read_time(at, s, out, report)) return;
        timed = true;
      }
      if (!skip_to(wanted.field, at)) return out.reject({fault::too_few_fields, 0, text});
      read_reading(wanted, at, s, out, report);
    }
    if (!timed && !read_time(at, s, out, report)) return;
    // Where one letter was hit another may have been: such a row is not used in part.
    if (out.flaw_count > 0 && out.has(fault::not_text))
      return out.reject({fault::not_text, 0, text});
    skip_to(layout_.fields, at);
    if (at.over && at.field < layout_.fields) return out.reject({fault::too_few_fields, 0, text});
    if (!at.over) {
      if (!trimmed({at.p, static_cast<std::size_t>(at.end - at.p)}).empty())
        return out.reject({fault::too_many_fields, 0, text});
      readings_.say({.what = assumed::trailing_separator}, report);
    }
    out.usable = true;
  }

  /// The last cell of a line that broke off: it stands only where it has all the decimals that
  /// column always had, for a number cut off is another number.
  void judge_last_cell(row& out) const noexcept {
    const auto last = static_cast<std::uint16_t>(layout_.fields - 1);
    if (layout_.time.form != clock_form::none &&
        (layout_.time.field == last || layout_.time.second == last))
      return out.reject({fault::incomplete, layout_.fields, {}});
    for (const auto& c : layout_) {
      if (c.field != last || out.held.mark(c.measurand) != quality::good) continue;
      if (out.held.indication.has(c.measurand) && seen_ > 1 && least_decimals_ > 0 &&
          last_decimals_ >= least_decimals_)
        continue;
      out.held.indication.clear(c.measurand);
      out.add({fault::incomplete, layout_.fields, {}});
    }
  }

 private:
  struct position {
    const char* p;
    const char* end;
    std::uint32_t field = 0;  // the one p stands at the front of
    bool over = false;        // there is no further field
  };

  [[nodiscard]] constexpr bool separates(char c) const noexcept {
    return c == layout_.separator || (layout_.separator == ' ' && c == '\t');
  }
  static constexpr void skip_blanks(position& at) noexcept {
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
  constexpr field take_field(position& at) const noexcept {
    field_cursor cursor{{at.p, static_cast<std::size_t>(at.end - at.p)}, layout_.separator};
    field f;
    cursor.next(f);
    at.p = at.end - cursor.left();
    ++at.field;
    at.over = !cursor.more();
    return f;
  }
  constexpr bool skip_to(std::uint16_t field, position& at) const noexcept {
    while (at.field < field && !at.over) {
      const char* q = at.p;
      while (q != at.end && !separates(*q) && *q != '"') ++q;
      if (q != at.end && *q == '"') [[unlikely]] {
        take_field(at);
      } else {
        at.p = q;
        step(at);
      }
    }
    return !at.over;
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

  template <class Report>
  bool read_time(position& at, const decoder_settings& s, row& out, Report& report) noexcept {
    const std::string_view rest{at.p, static_cast<std::size_t>(at.end - at.p)};
    if (!skip_to(layout_.time.field, at)) {
      out.reject({fault::too_few_fields, 0, rest});
      return false;
    }
    decimal d;
    std::string_view text;
    std::optional<std::int64_t> ns;
    if (read_plain(at, readings_.point() == ',' ? ',' : '.', d, text)) [[likely]] {
      ns = to_nanoseconds(d, layout_.time.in);
    } else {
      const auto f = take_field(at);
      text = f.text;
      ns = read_odd_time(f, s, report);
    }
    if (!ns) [[unlikely]] {
      reject_time(text, layout_.time.field, out);
      return false;
    }
    out.held.at = instant{duration{*ns}};
    return true;
  }

  /// A time in quotes, or whose decimal comma is the first the log shows.
  template <class Report> std::optional<std::int64_t> read_odd_time(const field& f,
                                                                    const decoder_settings& s,
                                                                    Report& report) noexcept {
    const bool apart = readings_.is_apart(f, layout_.separator, s);
    const auto n = read_written_number(f.text, apart ? '\0' : readings_.point());
    if (n.is != written_number::verdict::number) return std::nullopt;
    decimal d;
    const char* const end = f.text.data() + f.text.size();
    if (read_decimal(f.text.data(), end, n.point == ',' ? ',' : '.', d) != end) return std::nullopt;
    const auto ns = to_nanoseconds(d, layout_.time.in);
    if (!ns || n.point != ',') return ns;
    if (readings_.point() == '\0') readings_.learn(',');
    const auto number = static_cast<std::uint16_t>(layout_.time.field + 1);
    readings_.say({.what = assumed::decimal_comma, .field = number, .seen = f.text}, report);
    return ns;
  }

  static void reject_time(std::string_view text, std::uint16_t field, row& out) noexcept {
    const auto what = text.empty()        ? fault::no_time
                      : has_damage(text)  ? fault::not_text
                      : is_two_days(text) ? fault::ambiguous_time
                                          : fault::bad_time;
    out.reject({what, static_cast<std::uint16_t>(field + 1), text});
  }

  /// Stamps are looked for ahead of the readings: date and clock may stand anywhere in the row.
  template <class Report> bool read_stamp_field(std::string_view text, const decoder_settings& s,
                                                row& out, Report& report) noexcept {
    char both[96];
    std::size_t n = 0;
    std::string_view shown;
    const auto& t = layout_.time;
    const auto last = t.second > t.field ? t.second : t.field;
    field f;
    field date;
    field_cursor cursor{text, layout_.separator};
    for (std::uint32_t here = 0; here <= last; ++here) {
      if (!cursor.next(f)) {
        out.reject({fault::too_few_fields, 0, text});
        return false;
      }
      if (here == t.field) date = f;
      if (here == t.second) shown = f.text;
    }
    if (t.second != t.field && date.text.size() + shown.size() < sizeof both) {
      for (char c : date.text) both[n++] = c;
      both[n++] = ' ';
      for (char c : shown) both[n++] = c;
      shown = {both, n};
    }
    const auto r = shown.empty() ? std::nullopt : clock_.read(shown, s, report);
    if (!r || r->length != shown.size()) {
      reject_time(t.second == t.field ? shown : date.text, t.field, out);
      return false;
    }
    out.held.at = r->at;
    return true;
  }

  template <class Report> void read_reading(const column& wanted, position& at,
                                            const decoder_settings& s, row& out,
                                            Report& report) noexcept {
    decimal d;
    std::string_view text;
    const char point = readings_.point();
    if (point == '\0' || !read_plain(at, point, d, text)) [[unlikely]] {
      const auto f = take_field(at);
      readings_.read(f, wanted, layout_.separator, s, out, report);
      return;
    }
    if (const auto x = to_double(d, text, point)) [[likely]] {
      readings_.put(wanted, wanted.as, *x, d.exponent, s, out);
    } else {
      out.add({fault::bad_number, static_cast<std::uint16_t>(wanted.field + 1), text});
    }
    if (wanted.field + 1 == layout_.fields) {
      if (seen_ == 1 || last_decimals_ < least_decimals_) least_decimals_ = last_decimals_;
      last_decimals_ = d.decimals;
      if (seen_ < 2) ++seen_;
    }
  }

  layout layout_{};
  log_clock clock_{};
  reading_reader readings_{};
  std::int32_t last_decimals_ = 0;   // of the newest number in the last field
  std::int32_t least_decimals_ = 0;  // of all before it
  std::uint8_t seen_ = 0;            // how many there were, up to two
};

}  // namespace stilling
