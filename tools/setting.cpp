// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#include "setting.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <utility>

#include "stilling/text.hpp"

namespace stilling::command {
namespace {

/// As the place calls it where it was said.
std::string_view name_of(const setting& s, bool typed) { return typed ? s.option : s.key; }

bool excludes(const setting& one, const setting& other) {
  return std::ranges::find(one.excludes, other.option) != one.excludes.end();
}

void check_choices(const setting& s, const words& value) {
  if (s.choices.empty()) return;
  for (const auto& word : value)
    if (std::ranges::find(s.choices, word) == s.choices.end())
      throw refusal{fmt::format("'{}' is none of {}", word, joined(s.choices, ", "))};
}

/// What was said beside a setting that makes it senseless; null: nothing.
const setting* rival(std::size_t of, const settings_list& list, const answers& said) {
  for (std::size_t i = 0; i < list.size(); ++i)
    if (said[i] && (excludes(list[of], list[i]) || excludes(list[i], list[of]))) return &list[i];
  return nullptr;
}

/// The words that count for a setting: what was typed stands in place of what a file says, and of
/// what it excludes. Null: none.
const answer* said_of(std::size_t of, const settings_list& list, const answers& typed,
                      const answers& filed) {
  if (typed[of]) return &*typed[of];
  return filed[of] && rival(of, list, typed) == nullptr ? &*filed[of] : nullptr;
}

/// In quotes, as TOML 1.0 spells text.
std::string quoted(std::string_view text) {
  std::string to = "\"";
  for (const char c : text) {
    const auto byte = static_cast<unsigned char>(c);
    if (byte < 0x20 || byte == 0x7F) {
      to += fmt::format("\\u{:04X}", byte);
      continue;
    }
    if (c == '"' || c == '\\') to += '\\';
    to += c;
  }
  return to += '"';
}

std::string toml_of(const setting& s, const words& value) {
  switch (s.is) {
    case setting::shape::flag: return value[0] == "on" ? "true" : "false";
    case setting::shape::word:
    case setting::shape::word_or_none: return quoted(value.empty() ? "" : value[0]);
    case setting::shape::list:
    case setting::shape::rules: break;
  }
  std::string to;
  for (const auto& word : value) to += (to.empty() ? "[" : ", ") + quoted(word);
  return to + "]";
}

}  // namespace

void take_all(const settings_list& list, const answers& typed, const answers& filed) {
  std::string faults;
  const auto blame = [&](const answer& a, std::string_view why) {
    faults += fmt::format("{}{}: {}", faults.empty() ? "" : "\n", a.where, printable(why));
  };
  for (std::size_t i = 0; i < list.size(); ++i) {
    const auto* found = said_of(i, list, typed, filed);
    if (found == nullptr) continue;
    const auto& said = *found;
    if (const auto* other = rival(i, list, typed[i] ? typed : filed)) {
      if (excludes(list[i], *other))
        blame(said, fmt::format("makes no sense together with {}",
                                name_of(*other, typed[i].has_value())));
      continue;
    }
    try {
      check_choices(list[i], said.value);
      list[i].take(said.value);
    } catch (const refusal& why) {
      blame(said, why.what());
    }
  }
  if (!faults.empty()) throw refusal{faults};
}

std::string settings_text(const settings_list& list, const answers& typed, const answers& filed) {
  std::string to;
  std::vector<std::string_view> tables{""};
  // Whom a test was made for is not how it is judged.
  for (const auto& s : list)
    if (std::ranges::find(tables, s.table) == tables.end() && s.table != "particulars")
      tables.push_back(s.table);
  for (const auto table : tables) {
    bool opened = table.empty();
    for (std::size_t i = 0; i < list.size(); ++i) {
      if (list[i].table != table || list[i].key.empty()) continue;
      const auto* said = said_of(i, list, typed, filed);
      if (said == nullptr) continue;
      if (!std::exchange(opened, true)) to += fmt::format("[{}]\n", table);
      to += fmt::format("{} = {}\n", list[i].key, toml_of(list[i], said->value));
    }
  }
  return to;
}

const answer* who_said(std::string_view name, const settings_list& list, const answers& typed,
                       const answers& filed) {
  for (std::size_t i = 0; i < list.size(); ++i) {
    if (std::ranges::find(list[i].governs, name) == list[i].governs.end()) continue;
    if (typed[i]) return &*typed[i];
    if (filed[i]) return &*filed[i];
  }
  // Nobody said that one; perhaps one that belongs together with it.
  const auto dot = name.find('.');
  if (dot == std::string_view::npos) return nullptr;
  return who_said(name.substr(0, dot), list, typed, filed);
}

}  // namespace stilling::command
