// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#pragma once

#include <cstddef>
#include <cstdint>
#include <optional>
#include <string_view>

#include "stilling/decoding/fields.hpp"
#include "stilling/items/assumption.hpp"
#include "stilling/items/layout.hpp"
#include "stilling/terms/decoder_settings.hpp"

/// A line of column names to a layout. The canonical name is `<channel>_<unit>`, split at the
/// longest known channel name because unit codes contain underscores too.
namespace stilling {

/// What a column's name says.
struct column_name {
  enum class meaning : std::uint8_t { unknown, skipped, time, reading };
  meaning is = meaning::unknown;
  channel measurand = channel::stack_temp;
  unit as = unit::kelvin;
  clock_form form = clock_form::none;
  time_unit in = time_unit::second;
};

[[nodiscard]] constexpr column_name read_column_name(std::string_view name) noexcept {
  using enum column_name::meaning;
  if (name == "-") return {.is = skipped};
  if (name == "time") return {.is = time, .form = clock_form::stamp};
  if (name.starts_with("time_")) {
    const auto u = find_time_unit(name.substr(5));
    return u ? column_name{.is = time, .form = clock_form::number, .in = *u} : column_name{};
  }
  const channel* best = nullptr;
  for (const auto& c : all_channels) {
    const auto word = traits_of(c).name;
    if (name.size() > word.size() + 1 && name.starts_with(word) && name[word.size()] == '_' &&
        (best == nullptr || word.size() > traits_of(*best).name.size()))
      best = &c;
  }
  if (best == nullptr) return {};
  const auto& t = traits_of(*best);
  const auto u = find_unit(name.substr(t.name.size() + 1), t.kind);
  return u ? column_name{.is = reading, .measurand = *best, .as = *u} : column_name{};
}

/// A byte order mark in front of a file that was appended to another, and stray NULs.
[[nodiscard]] constexpr std::string_view without_mark(std::string_view line) noexcept {
  while (!line.empty() && line.front() == '\0') line.remove_prefix(1);
  if (line.starts_with("\xEF\xBB\xBF")) line.remove_prefix(3);
  return line;
}

/// The layout a line of names describes, were it cut at this separator; none where it is no such
/// line. `report` is given an `assumption` for each column that is not used.
template <class Report>
[[nodiscard]] constexpr std::optional<layout> read_header(std::string_view line, char separator,
                                                          bool needs_time,
                                                          Report&& report) noexcept {
  using enum column_name::meaning;
  layout out{};
  out.separator = separator;
  std::uint32_t at = 0;
  bool last_empty = false;
  field f;
  for (field_cursor cursor{line, separator}; cursor.next(f); ++at) {
    if (at == 65'535) return std::nullopt;
    const auto here = static_cast<std::uint16_t>(at);
    const auto name = read_column_name(f.text);
    last_empty = f.text.empty();
    bool doubled = false;
    if (name.is == time && out.time.form == clock_form::none) {
      out.time = {name.form, name.in, here, here};
    } else if (name.is == reading) {
      doubled = !out.insert({here, name.measurand, name.as});
    } else {
      doubled = name.is == time;
      if (name.is == unknown && !f.text.empty())
        report(assumption{.what = assumed::column_ignored,
                          .field = static_cast<std::uint16_t>(here + 1), .seen = f.text});
    }
    if (doubled)
      report(assumption{.what = assumed::column_doubled,
                        .field = static_cast<std::uint16_t>(here + 1), .seen = f.text});
  }
  // A separator behind the last name is no further column.
  out.fields = static_cast<std::uint16_t>(last_empty && at > 1 ? at - 1 : at);
  if (out.count == 0 || (needs_time && out.time.form == clock_form::none)) return std::nullopt;
  return out;
}

/// The separator under which most names are known decides.
[[nodiscard]] constexpr std::optional<layout> read_header(std::string_view line,
                                                          const decoder_settings& s) noexcept {
  const auto ignore = [](const assumption&) {};
  std::optional<layout> best;
  for (char separator : {',', ';', '\t', ' '}) {
    if (s.separator != '\0' && s.separator != separator) continue;
    const auto found = read_header(line, separator, !s.interval, ignore);
    if (found && (!best || found->count > best->count)) best = found;
  }
  return best;
}

}  // namespace stilling
