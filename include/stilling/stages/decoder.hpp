// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#pragma once

#include <cstddef>
#include <cstdint>
#include <optional>
#include <string_view>
#include <utility>

#include "stilling/decoding/break_mark.hpp"
#include "stilling/decoding/header.hpp"
#include "stilling/decoding/label_reader.hpp"
#include "stilling/decoding/remark.hpp"
#include "stilling/decoding/row_reader.hpp"
#include "stilling/decoding/unit_switch.hpp"
#include "stilling/stages/stage.hpp"
#include "stilling/terms/decoder_settings.hpp"

/// Lines in, frames out. The second door: behind it there are no foreign units, names, signs or
/// clocks, only kelvin, mol/mol, pascal and exact nanoseconds.
///
/// A header gives the layout, which is handed on before the first frame it governs. The same header
/// again means nothing; another one is a break (`new_units` where only units differ, else
/// `new_header`). Units that a header leaves open come from a row of units or from the cells of the
/// first row; a column without any is not used (`no_unit`). A cell that cannot be read is missing
/// in its frame and said as a rejection with its field; a row whose time or number of fields is
/// wrong, or that holds damaged letters, is not used at all. What a log marks as torn or as
/// a new connection (break_mark.hpp) is a line not used, and a break.
namespace stilling {

class decoder {
 public:
  using emits = items<layout, frame, note, rejection, discontinuity, assumption>;

  constexpr decoder() noexcept : decoder{decoder_settings{}} {}
  explicit constexpr decoder(const decoder_settings& s) noexcept
      : settings_{s}, labels_{s}, joined_{s.joined} {}

  template <class Sink> void push(const record& r, Sink&& sink) noexcept {
    line_ = r.line;
    if (r.padding > 0) sink(assumption{.line = line_, .what = assumed::padding});
    const auto first = r.text.find_first_not_of(" \t");
    if (first == std::string_view::npos) return;
    if (is_torn(r.text)) [[unlikely]]
      return pass_torn(r.text, sink);
    if (r.text[first] == '#') return hand_on_note(behind(r.text, first), sink);
    if (!has_layout_) [[unlikely]] {
      if (settings_.labelled) take(labels_.by(), sink);
      else if (!settings_.fields.empty() && !joined_) take_given_fields(r.text, sink);
    }
    if (opening_) [[unlikely]] {
      if (settle_units(r.text, sink)) return;
    }
    if (has_layout_) [[likely]]
      return read_row(r, sink);
    if (take_header(r, sink)) return;
    const bool torn = std::exchange(joined_, false) && !settings_.fields.empty();
    const auto what = r.cut ? fault::line_too_long : torn ? fault::incomplete : fault::no_layout;
    sink(rejection{line_, what, 0, r.text});
  }

  template <class Sink> void finish(Sink&&) noexcept { begin_anew(*this, settings_); }

  /// What the header taught still holds: the same log goes on, perhaps in the middle of a line.
  template <class Sink> void interrupt(const discontinuity&, Sink&&) noexcept {
    joined_ = true;
    switch_ = {};
  }

  [[nodiscard]] constexpr zone_seam ties() const noexcept { return settings_.seam(); }
  constexpr void tie(const zone_seam& s) noexcept { settings_.set_seam(s), row_.flaws = {}; }

 private:
  template <class Sink> void read_row(const record& r, Sink& sink) noexcept {
    const auto say = [&](assumption a) { a.line = line_, sink(a); };
    if (settings_.labelled) labels_.read(r.text, settings_, row_, say);
    else rows_.read(r.text, settings_, row_, say);
    if ((r.unterminated || joined_ || r.cut) && !settle_fragment(r)) [[unlikely]] {
      if (take_header(r, sink)) return;
      pass_interval();
      sink(rejection{line_, r.cut ? fault::line_too_long : fault::incomplete, 0, r.text});
      return;
    }
    if (row_.flaw_count > 0) [[unlikely]] {
      if (take_header(r, sink)) return;
      torn_ = row_.has(fault::too_few_fields);
      for (std::size_t i = 0; i < row_.flaw_count; ++i) {
        const auto& f = row_.flaws[i];
        // The first row of a log without a header is often the rest of one.
        const bool rest = f.what == fault::too_few_fields && !framed_ && !settings_.fields.empty();
        sink(rejection{line_, rest ? fault::incomplete : f.what, f.field, f.seen});
      }
    }
    if (!row_.usable) [[unlikely]]
      return pass_interval();
    if (torn_) [[unlikely]] {
      // Behind a torn line an earlier time is more likely the rest of a number: 402 of 1402.
      torn_ = false;
      if (framed_ && layout_.time.form != clock_form::none && row_.held.at < last_)
        return sink(rejection{line_, fault::incomplete, 0, r.text});
    }
    row_.held.line = line_;
    if (settings_.interval && layout_.time.form == clock_form::none) {
      if (!framed_) say(assumption{.what = assumed::interval});
      pass_interval();
      row_.held.at = last_;
    }
    if (const auto other = switch_.find(row_.held, layout_)) [[unlikely]] {
      row_.held = unit_switch::in_units(row_.held, layout_, *other);
      sink(discontinuity{line_, row_.held.at, break_kind::new_units});
      say(assumption{.what = assumed::units_switched});
      layout_ = *other;
      rows_.speak(layout_);
      sink(layout_);
    }
    last_ = row_.held.at;
    framed_ = true;
    sink(row_.held);
  }

  /// A row that was sent took its time, also where it could not be read.
  void pass_interval() noexcept {
    if (!framed_ || !settings_.interval || layout_.time.form != clock_form::none) return;
    last_ = latest - last_ > *settings_.interval ? last_ + *settings_.interval : latest;
  }

  /// A line without its end, or perhaps without its beginning; false where it cannot be used.
  bool settle_fragment(const record& r) noexcept {
    const bool joined = joined_;
    joined_ = false;
    if (r.cut || joined) return false;
    if (row_.usable && !settings_.labelled) rows_.judge_last_cell(row_);
    return row_.usable;
  }

  template <class Sink> void hand_on_note(std::string_view text, Sink& sink) noexcept {
    note n = read_note(text, settings_.labelled ? labels_.clock() : rows_.clock(), settings_);
    n.line = line_;
    if (!says_reconnect(n.text)) return sink(n);
    if (framed_) sink(discontinuity{line_, n.at.value_or(last_), break_kind::reconnect});
    joined_ = true;
    switch_ = {};
  }

  /// A line that is known to be broken off.
  template <class Sink> void pass_torn(std::string_view text, Sink& sink) noexcept {
    joined_ = false;
    torn_ = true;
    pass_interval();
    sink(rejection{line_, fault::incomplete, 0, text.substr(0, text.size() - 1)});
  }

  template <class Sink> bool take_header(const record& r, Sink& sink) noexcept {
    const auto line = without_mark(r.text);
    // No name begins like a number, unless the caller says so.
    const bool number = !line.empty() && (detail::is_digit(line[0]) || line[0] == '-');
    if (r.cut || settings_.labelled || (number && settings_.rule_count == 0)) return false;
    const auto h = read_header(line, settings_);
    if (!h) return false;
    joined_ = torn_ = false;
    if (has_layout_ && *h == header_) {
      opening_ = again_ = true;  // a row of units may follow it again
      return true;
    }
    if (h->unitless.empty() && has_layout_ && h->found == layout_) return true;
    static_cast<void>(read_header(line, h->found.separator, settings_, [&](assumption a) {
      a.line = line_;
      sink(a);
    }));
    header_ = *h;
    opening_ = true;
    if (h->unitless.empty()) begin(h->found, sink);
    return true;
  }

  /// The line after a header: a row of units, or a row whose cells carry theirs. True where the
  /// line is spent.
  template <class Sink> bool settle_units(std::string_view text, Sink& sink) noexcept {
    opening_ = false;
    auto h = header_;
    const bool is_units = read_units(text, h, [&](assumption a) { a.line = line_, sink(a); });
    if (std::exchange(again_, false) && !is_units) return false;
    const bool complete = header_.unitless.empty();
    if (is_units) drop_unitless(h, sink);
    else if (!complete) take_cell_units(text, h, sink);
    if (!complete || h.found.time != header_.found.time) begin(h.found, sink);
    return is_units;
  }

  /// What the row of units left blank.
  template <class Sink> void drop_unitless(header& h, Sink& sink) noexcept {
    layout known = h.found;
    known.count = 0;
    for (const auto& c : h.found) {
      if (h.unitless.contains(c.measurand)) reject_unitless(c, sink);
      else known.insert(c);
    }
    h.found = known;
  }

  template <class Sink> void reject_unitless(const column& c, Sink& sink) noexcept {
    sink(rejection{line_, fault::no_unit, static_cast<std::uint16_t>(c.field + 1),
                   traits_of(c.measurand).name});
  }

  template <class Sink>
  void take_cell_units(std::string_view text, header& h, Sink& sink) noexcept {
    layout known = h.found;
    known.count = 0;
    field f;
    field_cursor cursor{text, h.found.separator};
    std::uint32_t here = 0;
    for (auto c : h.found) {
      bool there = true;
      for (; there && here <= c.field; ++here) there = cursor.next(f);
      if (h.unitless.contains(c.measurand)) {
        const auto read = there && !f.text.empty()
                              ? read_cell(f.text, traits_of(c.measurand).kind, '\0')
                              : cell{};
        if (!read.as) {
          reject_unitless(c, sink);
          continue;
        }
        c.as = *read.as;
      }
      known.insert(c);
    }
    h.found = known;
  }

  /// A layout from a header: a break where rows were read by another one.
  template <class Sink> void begin(const layout& l, Sink& sink) noexcept {
    if (l.count == 0) {
      has_layout_ = false;
      return;
    }
    if (has_layout_ && l == layout_) return;
    if (framed_) sink(discontinuity{line_, last_, kind_of_change(l)});
    take(l, sink);
  }

  template <class Sink> void take_given_fields(std::string_view row, Sink& sink) noexcept {
    auto given = read_header(settings_.fields.view(), ',', settings_, [](const assumption&) {});
    if (!given) return;
    auto& l = given->found;
    l.separator = settings_.separator;
    if (l.separator == '\0') {
      // The one that cuts this row into as many fields as are named.
      l.separator = ',';
      for (char s : separators) {
        std::uint32_t n = 0;
        field f;
        for (field_cursor cursor{row, s}; cursor.next(f);) ++n;
        if (n != l.fields) continue;
        l.separator = s;
        break;
      }
    }
    header_ = *given;
    opening_ = !given->unitless.empty();
    if (!opening_) take(l, sink);
  }

  template <class Sink> void take(const layout& l, Sink& sink) noexcept {
    layout_ = l;
    rows_ = row_reader{l, settings_};
    switch_ = {};
    has_layout_ = true;
    sink(l);
  }

  [[nodiscard]] constexpr break_kind kind_of_change(const layout& l) const noexcept {
    layout as_before = l;
    for (std::size_t i = 0; i < l.count && i < layout_.count; ++i)
      as_before.columns[i].as = layout_.columns[i].as;
    return as_before == layout_ ? break_kind::new_units : break_kind::new_header;
  }

  decoder_settings settings_;
  layout layout_{};  // in effect
  header header_{};  // as the log wrote it
  row_reader rows_{};
  label_reader labels_{};
  row row_{};
  unit_switch switch_{};
  instant last_{};
  std::uint64_t line_ = 0;
  bool has_layout_ = false;
  bool opening_ = false;  // the line after a header is still to come
  bool again_ = false;    // the header is the one in effect
  bool framed_ = false;   // a frame was handed on since the start
  bool joined_ = false;   // this line may lack its beginning
  bool torn_ = false;     // the line before was no whole row
};

static_assert(stage<decoder> && accepts<decoder, record> && interrupts<decoder>);

}  // namespace stilling
