// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#include "setting.hpp"

#include <fmt/format.h>

#include <algorithm>

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

}  // namespace

void take_all(const settings_list& list, const answers& typed, const answers& filed) {
  std::string faults;
  const auto blame = [&](const answer& a, std::string_view why) {
    faults += fmt::format("{}{}: {}", faults.empty() ? "" : "\n", a.where, printable(why));
  };
  for (std::size_t i = 0; i < list.size(); ++i) {
    const auto& own = typed[i] ? typed : filed;
    // What was typed also stands in place of what it excludes.
    if (!own[i] || (!typed[i] && rival(i, list, typed) != nullptr)) continue;
    const auto& said = *own[i];
    if (const auto* other = rival(i, list, own)) {
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
