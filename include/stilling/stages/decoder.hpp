// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#pragma once

#include <cstddef>
#include <cstdint>
#include <optional>
#include <string_view>

#include "stilling/decoding/header.hpp"
#include "stilling/decoding/remark.hpp"
#include "stilling/decoding/row.hpp"
#include "stilling/stages/stage.hpp"
#include "stilling/terms/decoder_settings.hpp"

/// Lines in, frames out. The second door: behind it there are no foreign units, names, signs or
/// clocks, only kelvin, mol/mol, pascal and exact nanoseconds.
///
/// A header gives the layout, which is handed on before the first frame it governs. The same header
/// again means nothing; another one is a break (`new_units` where only units differ, else
/// `new_header`). A cell that cannot be read is missing in its frame and said as a rejection with
/// its field; a row whose time or number of fields is wrong is not used at all. A row with damaged
/// letters is not used either: where one letter was hit another may have been.
namespace stilling {

class decoder {
 public:
  using emits = items<layout, frame, note, rejection, discontinuity, assumption>;

  constexpr decoder() noexcept : decoder{decoder_settings{}} {}
  explicit constexpr decoder(const decoder_settings& s) noexcept : settings_{s} {}

  template <class Sink> void push(const record& r, Sink&& sink) noexcept {
    line_ = r.line;
    if (r.padding > 0) sink(assumption{.line = line_, .what = assumed::padding});
    if (!has_layout_ && !settings_.fields.empty()) take_given_fields(r.text, sink);
    if (has_layout_) [[likely]] {
      read_row(r, sink);
    } else if (is_note(r.text)) {
      read_remark(r.text, sink);
    } else if (!trimmed(r.text).empty() && !take_header(r, sink)) {
      sink(rejection{line_, r.cut ? fault::line_too_long : fault::no_layout, 0, r.text});
    }
  }

  template <class Sink> void finish(Sink&&) noexcept { *this = decoder{settings_}; }

  /// What the header taught still holds: the same log goes on.
  template <class Sink> void interrupt(const discontinuity&, Sink&&) noexcept {}

 private:
  template <class Sink> void read_row(const record& r, Sink& sink) noexcept {
    const auto first = r.text.find_first_not_of(' ');
    if (first == std::string_view::npos) return;
    if (r.text[first] == '#') return read_remark(r.text, sink);
    rows_.read(r.text, row_, [&](assumption a) { a.line = line_, sink(a); });
    if (row_.usable) [[likely]] {
      row_.held.line = line_;
      if (!settings_.interval) {
        last_ = row_.held.at;
      } else {
        last_ = framed_ ? last_ + *settings_.interval : instant{};
        row_.held.at = last_;
      }
    }
    if (row_.flaw_count > 0) [[unlikely]] {
      if (take_header(r, sink)) return;
      if (r.cut || (r.unterminated && !row_.usable)) {
        sink(rejection{line_, r.cut ? fault::line_too_long : fault::incomplete, 0, r.text});
      } else {
        for (std::uint8_t i = 0; i < row_.flaw_count; ++i) {
          const auto& f = row_.flaws[i];
          // The first line of a log without a header may have been joined in its middle.
          const bool joined = !framed_ && f.what == fault::too_few_fields;
          sink(rejection{line_, joined ? fault::incomplete : f.what, f.field, f.seen});
        }
      }
    }
    if (row_.usable) [[likely]] {
      framed_ = true;
      sink(row_.held);
    }
  }

  template <class Sink> void read_remark(std::string_view text, Sink& sink) noexcept {
    note n = read_note(text, has_layout_ ? rows_.by().time : time_column{});
    n.line = line_;
    sink(n);
  }

  template <class Sink> bool take_header(const record& r, Sink& sink) noexcept {
    if (r.cut) return false;
    const auto line = without_mark(r.text);
    const auto found = read_header(line, settings_);
    if (!found) return false;
    if (has_layout_ && *found == rows_.by()) return true;
    if (has_layout_ && framed_) sink(discontinuity{line_, last_, kind_of_change(*found)});
    static_cast<void>(read_header(line, found->separator, false, [&](assumption a) {
      a.line = line_;
      sink(a);
    }));
    take(*found, sink);
    return true;
  }

  template <class Sink> void take_given_fields(std::string_view row, Sink& sink) noexcept {
    auto given = read_header(settings_.fields.view(), ',', !settings_.interval,
                             [](const assumption&) {});
    if (!given) return;
    given->separator = settings_.separator;
    if (given->separator == '\0') {
      // The one that cuts this row into as many fields as are named.
      given->separator = ',';
      for (char s : {',', ';', '\t', ' '}) {
        std::uint32_t n = 0;
        field f;
        for (field_cursor cursor{row, s}; cursor.next(f);) ++n;
        if (n == given->fields) {
          given->separator = s;
          break;
        }
      }
    }
    take(*given, sink);
  }

  template <class Sink> void take(const layout& l, Sink& sink) noexcept {
    rows_ = row_reader{l, settings_.decimal_sign};
    has_layout_ = true;
    sink(l);
  }

  [[nodiscard]] constexpr break_kind kind_of_change(const layout& l) const noexcept {
    layout as_before = l;
    for (std::size_t i = 0; i < l.count && i < rows_.by().count; ++i)
      as_before.columns[i].as = rows_.by().columns[i].as;
    return as_before == rows_.by() ? break_kind::new_units : break_kind::new_header;
  }

  decoder_settings settings_;
  row_reader rows_{};
  row row_{};
  instant last_{};
  std::uint64_t line_ = 0;
  bool has_layout_ = false;
  bool framed_ = false;  // a frame was handed on since the start
};

static_assert(stage<decoder> && accepts<decoder, record> && interrupts<decoder>);

}  // namespace stilling
