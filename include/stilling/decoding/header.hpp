// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#pragma once

#include <cstddef>
#include <cstdint>
#include <optional>
#include <string_view>

#include "stilling/decoding/column_name.hpp"
#include "stilling/decoding/fields.hpp"
#include "stilling/decoding/scanner.hpp"
#include "stilling/items/assumption.hpp"
#include "stilling/items/layout.hpp"
#include "stilling/terms/decoder_settings.hpp"

/// A line of column names to a layout, and a line of units under it.
namespace stilling {

/// A layout that may still lack units.
struct header {
  layout found{};
  channel_set unitless;
  friend constexpr bool operator==(const header&, const header&) = default;
};

/// A byte order mark in front of a file that was appended to another, and stray NULs.
[[nodiscard]] constexpr std::string_view without_mark(std::string_view line) noexcept {
  while (!line.empty() && line.front() == '\0') line.remove_prefix(1);
  if (line.starts_with("\xEF\xBB\xBF")) line.remove_prefix(3);
  return line;
}

namespace detail {

enum class naming : std::uint8_t { ruled, canonical, foreign };

[[nodiscard]] constexpr column_name read_name(std::string_view text, naming by,
                                              const decoder_settings& s) noexcept {
  return by == naming::ruled       ? read_ruled_name(text, s)
         : by == naming::canonical ? read_canonical_name(text)
                                   : read_foreign_name(text);
}

/// What a foreign column is taken for, and by which sign where there are two in use.
[[nodiscard]] constexpr std::string_view proposal(channel c, const decoder_settings& s) noexcept {
  if (c == channel::draft_breech)
    return s.suction_positive ? "draft_breech, suction positive" : "draft_breech, suction negative";
  if (c == channel::draft_overfire)
    return s.suction_positive ? "draft_overfire, suction positive"
                              : "draft_overfire, suction negative";
  return traits_of(c).name;
}

/// Whether a column that is not used has a name that was understood all the same.
[[nodiscard]] constexpr bool is_understood(std::string_view text,
                                           const decoder_settings& s) noexcept {
  for (auto by : {naming::ruled, naming::canonical, naming::foreign})
    if (read_name(text, by, s).is != column_name::meaning::unknown) return true;
  return false;
}

}  // namespace detail

/// A log of hundreds of columns would be a page of names: the first few are reported one by one,
/// the others together. How many there are.
template <class Report>
constexpr std::uint32_t report_unused(std::string_view line, const layout& l,
                                      const decoder_settings& s, Report& report) noexcept {
  constexpr std::uint32_t few = 8;
  std::uint32_t unused = 0;
  std::uint32_t here = 0;
  assumption ninth;
  field f;
  for (field_cursor cursor{line, l.separator}; cursor.next(f); ++here) {
    bool used = l.time.form != clock_form::none && (l.time.field == here || l.time.second == here);
    for (const auto& c : l) used |= c.field == here;
    if (used || f.text.empty() || f.text == "-") continue;
    assumption a{.what = detail::is_understood(f.text, s) ? assumed::column_doubled
                                                          : assumed::column_ignored,
                 .field = static_cast<std::uint16_t>(here + 1),
                 .seen = f.text};
    if (++unused <= few) report(a);
    else if (unused == few + 1) ninth = a;
  }
  if (unused == few + 1) report(ninth);
  if (unused <= few + 1) return unused;
  char words[32] = "and ";
  std::size_t n = 4;
  std::uint32_t digit = 1;
  while ((unused - few - 1) / digit >= 10) digit *= 10;
  for (; digit > 0; digit /= 10)
    words[n++] = static_cast<char>('0' + (unused - few - 1) / digit % 10);
  for (char c : std::string_view{" others"}) words[n++] = c;
  ninth.taken = {words, n};
  report(ninth);
  return unused;
}

/// The header a line makes when it is cut at this separator; none where it is no header. What the
/// caller ruled goes before canonical names, and these before words. `report` is given an
/// `assumption` for each column that is proposed, doubled or not used.
template <class Report>
[[nodiscard]] constexpr std::optional<header> read_header(std::string_view line, char separator,
                                                          const decoder_settings& s,
                                                          Report&& report) noexcept {
  using enum column_name::meaning;
  header out;
  auto& l = out.found;
  l.separator = separator;
  std::uint32_t count = 0;
  bool last_is_empty = false;
  std::optional<std::uint16_t> clock_at;  // ruled beside a date
  std::optional<std::uint16_t> date_at;   // found beside a time
  bool joins_a_date = false;              // a canonical time, or a ruled one, holds its own
  const auto propose = [&](std::uint16_t at, std::string_view seen, std::string_view taken) {
    report(assumption{.what = assumed::column_proposed,
                      .field = static_cast<std::uint16_t>(at + 1),
                      .seen = seen,
                      .taken = taken});
  };
  field f;
  for (auto by : {detail::naming::ruled, detail::naming::canonical, detail::naming::foreign}) {
    if (by == detail::naming::ruled && s.rule_count == 0) continue;
    count = 0;
    for (field_cursor cursor{line, separator}; cursor.next(f); ++count) {
      if (count == 65'534) return std::nullopt;
      const auto here = static_cast<std::uint16_t>(count);
      const auto name = detail::read_name(f.text, by, s);
      last_is_empty = f.text.empty();
      if (name.is == time && l.time.form == clock_form::none) {
        l.time = {name.form, name.in, here, here};
        joins_a_date = by == detail::naming::foreign;
        if (joins_a_date) propose(here, f.text, "time");
      } else if (name.is == clock) {
        clock_at = here;
      } else if (name.is == date) {
        date_at = here;
      } else if (name.is == reading) {
        const auto kind = traits_of(name.measurand).kind;
        if (!l.insert({here, name.measurand, name.as.value_or(canonical_unit(kind))})) continue;
        if (!name.as) out.unitless.insert(name.measurand);
        if (by == detail::naming::foreign)
          propose(here, f.text, detail::proposal(name.measurand, s));
      }
    }
  }
  if (clock_at) l.time.second = *clock_at;
  if (date_at && !clock_at && joins_a_date && l.time.form == clock_form::stamp) {
    l.time.second = l.time.field;
    l.time.field = *date_at;
    propose(*date_at, "Date", "the date of the time column");
  }
  // A separator behind the last name is no further column.
  l.fields = static_cast<std::uint16_t>(last_is_empty && count > 1 ? count - 1 : count);
  if (l.count == 0 || (l.time.form == clock_form::none && !s.interval)) return std::nullopt;

  const auto unused = report_unused(line, l, s, report);
  // Between blanks stands prose as well: "time to look at the o2 cell".
  if (separator == ' ' && unused > 0) return std::nullopt;
  return out;
}

/// Every name of a time column that needs no rule holds one of two words. Garbage is refused by
/// them alone, before any name in it is looked up.
[[nodiscard]] constexpr bool may_name_time(std::string_view line,
                                           const decoder_settings& s) noexcept {
  if (s.rule_count > 0 || s.interval) return true;
  for (auto word : {std::string_view{"time"}, std::string_view{"elapsed"}})
    for (std::size_t at = 0; at + word.size() <= line.size(); ++at) {
      std::size_t n = 0;
      while (n < word.size() && scanner::lower(line[at + n]) == word[n]) ++n;
      if (n == word.size()) return true;
    }
  return false;
}

/// The separator under which most names are understood decides.
[[nodiscard]] constexpr std::optional<header> read_header(std::string_view line,
                                                          const decoder_settings& s) noexcept {
  const auto keep_quiet = [](const assumption&) {};
  std::optional<header> best;
  if (!may_name_time(line, s)) return best;
  for (char separator : separators) {
    if (s.separator != '\0' && s.separator != separator) continue;
    const auto h = read_header(line, separator, s, keep_quiet);
    if (h && (!best || h->found.count > best->found.count)) best = h;
  }
  return best;
}

/// Fills in what a row of units under the header says; false, and nothing changed, where the line
/// is no such row: then some wanted field holds what is no unit of its quantity. A blank field
/// leaves its column as it is. `report` is given an `assumption` where a unit is not the one the
/// name said.
template <class Report> [[nodiscard]] constexpr bool read_units(std::string_view line, header& h,
                                                                Report&& report) noexcept {
  header filled = h;
  struct {
    std::uint32_t at = 0;
    std::string_view seen{};
  } contradiction;
  std::size_t units = 0;
  std::uint32_t here = 0;
  field f;
  for (field_cursor cursor{line, h.found.separator}; cursor.next(f); ++here) {
    if (h.found.time.form != clock_form::none && h.found.time.field == here) {
      if (const auto u = recognise_time_unit(f.text)) {
        if (h.found.time.form == clock_form::stamp)
          filled.found.time.form = clock_form::number, filled.found.time.in = *u;
      } else if (!f.text.empty() && detail::is_digit(f.text.front())) {
        return false;
      }
    }
    for (std::size_t i = 0; i < h.found.count; ++i) {
      auto& c = filled.found.columns[i];
      if (c.field != here) continue;
      const auto u = recognise_unit(f.text, traits_of(c.measurand).kind, degree_sign::any_byte);
      // UCUM writes mol/mol as 1; in a log without times that is more likely a reading.
      const bool number = !f.text.empty() && detail::is_digit(f.text.front());
      if ((!u && !f.text.empty()) || (number && h.found.time.form == clock_form::none))
        return false;
      if (!u) continue;
      ++units;
      if (filled.unitless.contains(c.measurand)) c.as = *u;
      else if (c.as != *u) contradiction = {here, f.text};
      filled.unitless.erase(c.measurand);
    }
  }
  if (units == 0 || here < h.found.fields) return false;
  if (!contradiction.seen.empty())
    report(assumption{.what = assumed::units_contradict,
                      .field = static_cast<std::uint16_t>(contradiction.at + 1),
                      .seen = contradiction.seen});
  h = filled;
  return true;
}

}  // namespace stilling
