// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#pragma once

#include <cstddef>
#include <cstdint>
#include <optional>
#include <string_view>

#include "stilling/decoding/fields.hpp"
#include "stilling/decoding/letters.hpp"
#include "stilling/decoding/number.hpp"
#include "stilling/terms/unit.hpp"

/// The ways people and instruments write "no value", "above", "below" and the names of units.
/// Tables, so that a further spelling is one more word. Common practice, no published source.
namespace stilling {

/// At most `Capacity` letters, lower case, without what the writing hand puts in or leaves out.
struct plain_letters {
  static constexpr std::size_t capacity = 48;
  char letters[capacity]{};
  std::size_t size = 0;

  constexpr void put(char c) noexcept {
    if (size < capacity) letters[size] = c >= 'A' && c <= 'Z' ? static_cast<char>(c + 32) : c;
    ++size;  // a longer word is no word of ours: the size tells
  }
  [[nodiscard]] constexpr std::string_view view() const noexcept {
    return {letters, size <= capacity ? size : 0};
  }
};

enum class marker : std::uint8_t { missing, over, under };

/// What a cell without a number says; none where it is no marker. Blank is missing.
[[nodiscard]] constexpr std::optional<marker> find_marker(std::string_view text) noexcept {
  constexpr std::string_view missing[]{
      "na",      "n/a",    "#n/a",     "n.a.",     "n.a",      "nan",      "null",  "none",
      "nil",     "inf",    "infinity", "err",      "error",    "fault",    "fail",  "open",
      "off",     "wait",   "init",     "invalid",  "missing",  "#ref!",    "#num!", "#value!",
      "#div/0!", "#null!", "#name?",   "nodata",   "no data",  "no value", "blank", "not available",
      "1.#qnan", "1.#inf", "1.#ind",   "nan(ind)", "nan(snan)"};
  constexpr std::string_view over[]{"ovr",  "over",       "ovl",       "ol", "o.l", "0l",  "0.l",
                                    "o.l.", "ovf",        "overflow",  "hi", "hhh", "ofl", "hhhh",
                                    "high", "over range", "overrange", "or", "^^^", "^^^^"};
  constexpr std::string_view under[]{"udr",       "under", "ur",  "lo",          "lll",
                                     "low",       "und",   "unf", "under range", "underrange",
                                     "underflow", "ufl",   "llll"};
  if (text.empty()) return marker::missing;
  plain_letters word;
  bool only_strokes = true;
  for (char c : text) {
    only_strokes &=
        c == '-' || c == '*' || c == '.' || c == '_' || c == '?' || c == '#' || c == '/';
    if (word.size > 0 || (c != '+' && c != '-')) word.put(c);  // -INF, +OVR
  }
  if (only_strokes && text != ".") return marker::missing;
  if (word.view().empty()) return std::nullopt;
  for (auto w : missing)
    if (word.view() == w) return marker::missing;
  for (auto w : over)
    if (word.view() == w) return text.front() == '-' ? marker::under : marker::over;
  for (auto w : under)
    if (word.view() == w) return marker::under;
  return std::nullopt;
}

/// Control bytes, or bytes that belong to no plain row of readings: noise makes letters too.
[[nodiscard]] constexpr bool has_damage(std::string_view text) noexcept {
  for (char c : text) {
    const auto byte = static_cast<unsigned char>(c);
    if (byte < 0x20 || byte >= 0x7F) return true;
  }
  return false;
}

/// Whether any byte that is no plain letter may stand for a degree sign (the words of a header can
/// be trusted on their own), or only the encodings of one (a cell may be damaged).
enum class degree_sign : std::uint8_t { any_byte, known_bytes };

/// A unit as people write it: `°F`, `deg C`, `% vol`, `in. w.c.`; also names and UCUM codes. None
/// where it is no unit of that quantity.
[[nodiscard]] constexpr std::optional<unit> recognise_unit(
    std::string_view text, quantity kind, degree_sign degree = degree_sign::known_bytes) noexcept {
  text = trimmed(text);
  if (const auto exact = find_unit(text, kind)) return exact;
  constexpr std::string_view degrees[]{"\xC2\xB0", "\xC2\xBA", "\xB0", "\xBA", "\xF8", "\xC2\xA0"};
  plain_letters word;
  while (!text.empty()) {
    bool passed = false;
    for (auto d : degrees)
      if (text.starts_with(d)) {
        text.remove_prefix(d.size()), passed = true;
        break;
      }
    if (passed) continue;
    const char c = text.front();
    const bool letter = static_cast<unsigned char>(c) < 0x80;
    if (!letter && degree == degree_sign::known_bytes) return std::nullopt;
    if (letter && c != ' ' && c != '.' && c != '[' && c != ']' && c != '(' && c != ')') word.put(c);
    text.remove_prefix(1);
  }
  struct spelling {
    std::string_view word;
    unit is;
  };
  constexpr spelling table[]{
      {"f", unit::fahrenheit},
      {"degf", unit::fahrenheit},
      {"fahrenheit", unit::fahrenheit},
      {"c", unit::celsius},
      {"degc", unit::celsius},
      {"celsius", unit::celsius},
      {"cel", unit::celsius},
      {"centigrade", unit::celsius},
      {"k", unit::kelvin},
      {"kelvin", unit::kelvin},
      {"degk", unit::kelvin},
      {"%", unit::percent},
      {"pct", unit::percent},
      {"percent", unit::percent},
      {"%vol", unit::percent},
      {"vol%", unit::percent},
      {"volpct", unit::percent},
      {"%v/v", unit::percent},
      {"ppm", unit::ppm},
      {"ppmv", unit::ppm},
      {"ppmvol", unit::ppm},
      {"fraction", unit::fraction},
      {"mol/mol", unit::fraction},
      {"m3/m3", unit::fraction},
      {"pa", unit::pascal},
      {"hpa", unit::hectopascal},
      {"mbar", unit::millibar},
      {"inh2o", unit::inch_of_water},
      {"inwc", unit::inch_of_water},
      {"inwg", unit::inch_of_water},
      {"iwc", unit::inch_of_water},
      {"\"wc", unit::inch_of_water},
      {"\"h2o", unit::inch_of_water},
      {"mmh2o", unit::millimetre_of_water},
      {"mmwc", unit::millimetre_of_water},
  };
  for (const auto& s : table)
    if (word.view() == s.word && traits_of(s.is).kind == kind) return s.is;
  return std::nullopt;
}

}  // namespace stilling
