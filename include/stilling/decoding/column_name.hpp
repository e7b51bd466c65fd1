// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#pragma once

#include <cstddef>
#include <cstdint>
#include <optional>
#include <string_view>

#include "stilling/decoding/column_rule.hpp"
#include "stilling/decoding/spelling.hpp"
#include "stilling/items/layout.hpp"
#include "stilling/terms/decoder_settings.hpp"

/// What the name of a column says: by a rule of the caller's, by the canonical form
/// `<channel>_<unit>`, or by words that leave no doubt.
namespace stilling {

struct column_name {
  enum class meaning : std::uint8_t { unknown, skipped, time, clock, date, reading };
  meaning is = meaning::unknown;
  channel measurand = channel::stack_temp;
  std::optional<unit> as{};  // none: still to be learnt from a row of units or from the cells
  clock_form form = clock_form::none;
  time_unit in = time_unit::second;
};

/// Split at the longest known channel name, because unit codes contain underscores too.
[[nodiscard]] constexpr column_name read_canonical_name(std::string_view name) noexcept {
  using enum column_name::meaning;
  if (name == "-") return {.is = skipped};
  if (name == "time") return {.is = time, .form = clock_form::stamp};
  if (name.starts_with("time_")) {
    const auto u = find_time_unit(behind(name, 5));
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
  const auto u = find_unit(behind(name, t.name.size() + 1), t.kind);
  return u ? column_name{.is = reading, .measurand = *best, .as = u} : column_name{};
}

/// Units of time as people write them.
[[nodiscard]] constexpr std::optional<time_unit> recognise_time_unit(
    std::string_view text) noexcept {
  struct spelling {
    std::string_view word;
    time_unit is;
  };
  using enum time_unit;
  constexpr spelling table[]{
      {"sec", second},  {"secs", second},    {"seconds", second},   {"second", second},
      {"mins", minute}, {"minutes", minute}, {"minute", minute},    {"hr", hour},
      {"hrs", hour},    {"hours", hour},     {"msec", millisecond}, {"milliseconds", millisecond}};
  plain_letters word;
  for (char c : trimmed(text))
    if (c != '[' && c != ']' && c != '(' && c != ')' && c != '.') word.put(c);
  if (const auto exact = find_time_unit(word.view())) return exact;
  for (const auto& s : table)
    if (word.view() == s.word) return s.is;
  return std::nullopt;
}

/// A name parted from the unit behind it: `O2 [%]`, `CO (ppm)`, `T stack/degC`, `O2 %`.
struct split_name {
  std::string_view words;
  std::string_view unit_text;
};

[[nodiscard]] constexpr split_name split_off_unit(std::string_view name) noexcept {
  constexpr auto none = std::string_view::npos;
  if (!name.empty() && (name.back() == ']' || name.back() == ')')) {
    const auto open = name.rfind(name.back() == ']' ? '[' : '(');
    if (open != none && open > 0)
      return {trimmed(name.substr(0, open)),
              trimmed(behind(name, open + 1).substr(0, name.size() - open - 2))};
  }
  const auto at = name.find_last_of("/ _");
  if (at == none || at == 0) return {name, {}};
  return {trimmed(name.substr(0, at)), trimmed(behind(name, at + 1))};
}

/// By words that leave no doubt. The unit may still be missing; it is never supplied.
[[nodiscard]] constexpr column_name read_foreign_name(std::string_view name) noexcept {
  using enum column_name::meaning;
  struct spelling {
    std::string_view words;
    channel is;
  };
  // Without the gaps between words: "T stack", "T_stack" and "Tstack" are one name.
  constexpr spelling table[]{
      {"stack", channel::stack_temp},
      {"stacktemp", channel::stack_temp},
      {"stacktemperature", channel::stack_temp},
      {"tempstack", channel::stack_temp},
      {"tstack", channel::stack_temp},
      {"fluetemp", channel::stack_temp},
      {"fluetemperature", channel::stack_temp},
      {"tflue", channel::stack_temp},
      {"fluegastemp", channel::stack_temp},
      {"fluegastemperature", channel::stack_temp},
      {"tfluegas", channel::stack_temp},
      {"ambient", channel::ambient_temp},
      {"ambienttemp", channel::ambient_temp},
      {"ambienttemperature", channel::ambient_temp},
      {"tambient", channel::ambient_temp},
      {"combustionair", channel::ambient_temp},
      {"combustionairtemp", channel::ambient_temp},
      {"combustionairtemperature", channel::ambient_temp},
      {"o2", channel::o2},
      {"o2dry", channel::o2},
      {"oxygen", channel::o2},
      {"co2", channel::co2},
      {"co2dry", channel::co2},
      {"carbondioxide", channel::co2},
      {"co", channel::co},
      {"codry", channel::co},
      {"carbonmonoxide", channel::co},
      {"no", channel::no},
      {"nitricoxide", channel::no},
      {"draftbreech", channel::draft_breech},
      {"breechdraft", channel::draft_breech},
      {"draftoverfire", channel::draft_overfire},
      {"overfiredraft", channel::draft_overfire},
  };
  constexpr std::string_view times[]{"time",     "elapsed",   "elapsedtime", "timestamp",
                                     "datetime", "localtime", "unixtime",    "date/time"};
  const auto plain = [](std::string_view text) {
    plain_letters out;
    for (char c : text)
      if (c != ' ' && c != '_' && c != '-' && c != '.') out.put(c);
    return out;
  };
  const plain_text spelled{name};
  if (spelled.whole()) name = trimmed(spelled.view());
  const auto split = split_off_unit(name);
  if (plain(name).view() == "date") return {.is = date};
  for (bool whole : {true, false}) {
    const auto words = plain(whole ? name : split.words);
    if (!whole && split.unit_text.empty()) break;
    for (auto t : times) {
      if (words.view() != t) continue;
      const auto form = plain(split.unit_text);
      if (whole || form.view() == "hh:mm:ss" || form.view() == "h:mm:ss")
        return {.is = time, .form = clock_form::stamp};
      if (const auto u = recognise_time_unit(split.unit_text))
        return {.is = time, .form = clock_form::number, .in = *u};
    }
    for (const auto& s : table) {
      if (words.view() != s.words) continue;
      const auto u =
          whole ? std::nullopt
                : recognise_unit(split.unit_text, traits_of(s.is).kind, degree_sign::any_byte);
      // "No" without a unit numbers the rows.
      if ((whole && s.is != channel::no) || u) return {.is = reading, .measurand = s.is, .as = u};
    }
  }
  return {};
}

/// By a rule of the caller's. The rule names the column in full, or without the unit behind it.
[[nodiscard]] constexpr column_name read_ruled_name(std::string_view name,
                                                    const decoder_settings& s) noexcept {
  using enum column_name::meaning;
  const auto split = split_off_unit(name);
  for (std::size_t i = 0; i < s.rule_count; ++i) {
    const auto& r = s.rules[i];
    if (r.is_time && !r.clock_name.empty() && r.clock_name.view() == name)
      return {.is = clock, .form = clock_form::stamp};
    const bool whole = r.name.view() == name;
    if (!whole && r.name.view() != split.words) continue;
    if (r.is_time) {
      const auto u = r.in ? r.in : whole ? std::nullopt : recognise_time_unit(split.unit_text);
      return {.is = time,
              .form = u ? clock_form::number : clock_form::stamp,
              .in = u.value_or(time_unit::second)};
    }
    auto u = r.as;
    if (!u && !split.unit_text.empty())
      u = recognise_unit(split.unit_text, traits_of(r.measurand).kind, degree_sign::any_byte);
    return {.is = reading, .measurand = r.measurand, .as = u};
  }
  return {};
}

}  // namespace stilling
