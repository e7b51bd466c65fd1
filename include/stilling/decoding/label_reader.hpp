// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#pragma once

#include <array>
#include <cstddef>
#include <cstdint>
#include <string_view>

#include "stilling/decoding/column_name.hpp"
#include "stilling/decoding/log_clock.hpp"
#include "stilling/decoding/reading.hpp"
#include "stilling/decoding/row.hpp"

/// Lines whose values carry labels: `T=471F O2=5.2% CO: 12 ppm`, in any order, in any case. A label
/// begins with a letter and ends with `=` or `:`; its value reaches to the next label; quotes and
/// braces around them are no part of either, so a line of JSON is such a line. What a label means
/// the caller's rules say; canonical names need no rule, in any case. Labels of no meaning are
/// passed over.
namespace stilling {

class label_reader {
 public:
  constexpr label_reader() = default;
  explicit constexpr label_reader(const decoder_settings& s) noexcept {
    layout_.labelled = true;
    layout_.separator = ' ';
    for (std::size_t i = 0; i < s.rule_count; ++i) {
      const auto& r = s.rules[i];
      if (!r.is_time)
        layout_.insert({static_cast<std::uint16_t>(i), r.measurand,
                        r.as.value_or(canonical_unit(traits_of(r.measurand).kind))});
      else
        layout_.time.form = r.in ? clock_form::number : clock_form::stamp,
        layout_.time.in = r.in.value_or(time_unit::second);
    }
    // Stamped outside, as `--stamp` does it.
    if (layout_.time.form == clock_form::none && !s.interval)
      layout_.time = {.form = clock_form::number};
    readings_ = reading_reader{layout_, s};
    clock_ = log_clock{layout_.time};
  }

  [[nodiscard]] constexpr const layout& by() const noexcept { return layout_; }
  [[nodiscard]] constexpr const log_clock& clock() const noexcept { return clock_; }

  template <class Report>
  void read(std::string_view text, const decoder_settings& s, row& out, Report&& report) noexcept {
    out.clear();
    bool timed = layout_.time.form == clock_form::none;
    bool known = false;
    for (auto here = next_label(text, 0); here.sign < text.size();) {
      const auto next = next_label(text, here.sign + 1);
      auto label = trimmed(behind(text, here.begin).substr(0, here.sign - here.begin));
      if (label.ends_with('"')) label.remove_suffix(1);
      const auto value = text_between(text, here.sign + 1, next.begin);
      if (has_damage(label)) return out.reject({fault::not_text, 0, text});
      const auto name = meaning_of(label, s);
      if (name.is == column_name::meaning::time && !timed) {
        const auto r = value.empty() ? std::nullopt : clock_.read(value, s, report);
        if (!r || r->length != value.size())
          return out.reject({value.empty()        ? fault::no_time
                             : is_two_days(value) ? fault::ambiguous_time
                                                  : fault::bad_time,
                             0, value});
        out.held.at = r->at;
        timed = true;
      } else if (name.is == column_name::meaning::reading) {
        known = true;
        read_value(name, value, s, out, report);
      }
      here = next;
    }
    if (!known)
      return out.reject({has_damage(text) ? fault::not_text : fault::too_few_fields, 0, text});
    if (!timed) return out.reject({fault::no_time, 0, text});
    if (out.flaw_count > 0 && out.has(fault::not_text))
      return out.reject({fault::not_text, 0, text});
    out.usable = true;
  }

 private:
  struct place {
    std::size_t begin;
    std::size_t sign;
  };

  /// The next word of letters, digits and marks that begins with a letter and has a sign behind it.
  [[nodiscard]] static constexpr place next_label(std::string_view text,
                                                  std::size_t from) noexcept {
    for (auto at = text.find_first_of("=:", from); at != std::string_view::npos;
         at = text.find_first_of("=:", at + 1)) {
      auto end = at;
      while (end > from && (text[end - 1] == ' ' || text[end - 1] == '"')) --end;
      auto begin = end;
      while (begin > from && !ends_a_value(text[begin - 1])) --begin;
      if (begin < end && scanner::is_letter(text[begin])) return {begin, at};
    }
    return {text.size(), text.size()};
  }
  [[nodiscard]] static constexpr bool ends_a_value(char c) noexcept {
    return is_blank(c) || c == ',' || c == ';' || c == '|' || c == '"' || c == '{' || c == '}';
  }
  [[nodiscard]] static constexpr std::string_view text_between(std::string_view text,
                                                               std::size_t from,
                                                               std::size_t to) noexcept {
    while (from < to && (is_blank(text[from]) || text[from] == '"')) ++from;
    while (from < to && ends_a_value(text[to - 1])) --to;
    return behind(text, from).substr(0, to - from);
  }

  [[nodiscard]] static constexpr column_name meaning_of(std::string_view label,
                                                        const decoder_settings& s) noexcept {
    for (std::size_t i = 0; i < s.rule_count; ++i) {
      const auto& r = s.rules[i];
      const auto name = r.name.view();
      bool same = name.size() == label.size();
      for (std::size_t k = 0; same && k < name.size(); ++k)
        same = scanner::lower(name[k]) == scanner::lower(label[k]);
      if (!same) continue;
      if (r.is_time) return {.is = column_name::meaning::time};
      return {.is = column_name::meaning::reading, .measurand = r.measurand, .as = r.as};
    }
    const auto exact = read_canonical_name(label);
    if (exact.is != column_name::meaning::unknown) return exact;
    const auto any_case = read_foreign_name(label);
    return any_case.as || any_case.form == clock_form::number ? any_case : column_name{};
  }

  template <class Report> void read_value(const column_name& name, std::string_view value,
                                          const decoder_settings& s, row& out,
                                          Report& report) noexcept {
    const bool again =
        out.held.indication.has(name.measurand) || out.held.mark(name.measurand) != quality::good;
    if (again) return readings_.say({.what = assumed::column_doubled, .seen = value}, report);
    if (out.flaw_count == out.flaws.size()) return;
    const column to{0, name.measurand, name.as.value_or(unit::kelvin)};
    const field f{value, false};
    if (!name.as) {
      const auto c = read_cell(value, traits_of(name.measurand).kind, readings_.point());
      if (c.is == cell::verdict::value && !c.as) return out.add({fault::no_unit, 0, value});
    }
    readings_.read(f, to, ' ', s, out, report);
  }

  layout layout_{};
  log_clock clock_{};
  reading_reader readings_{};
};

}  // namespace stilling
