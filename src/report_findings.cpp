// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT

// What was found, gravest first, and what to mind before anything is changed.

#include "report_parts.hpp"
#include "report_words.hpp"
#include "text_number.hpp"
#include "text_words.hpp"

namespace stilling::reporting {
namespace {

using namespace writing;

constexpr std::size_t times_told = 6;

std::string_view word_of(severity s) noexcept {
  switch (s) {
    case severity::note: return "Note";
    case severity::warning: return "Warning";
    case severity::danger: return "DANGER";
  }
  return {};
}

/// "at 10:38, 19:24 and 25:24"
std::string times_of(const found_kind& k, const presentation& as) {
  std::vector<std::string> times;
  for (const auto* d : k.when) {
    if (times.size() == times_told) {
      times.push_back(fmt::format("{} more times", k.when.size() - times_told));
      break;
    }
    times.push_back(clock_of(d->at, as));
  }
  return "at " + listed(times);
}

std::string without_the_limit(std::string words) {
  const auto at = words.find("; the limit is");
  if (at != words.npos) words.replace(at, words.npos, ".");
  return words;
}

std::string in_full(const found_kind& k, const presentation& as) {
  const auto& a = advice_on(k.what);
  std::string text = fmt::format("{}, {}: {}", word_of(k.grave), times_of(k, as),
                                 brief_words_of(*k.when.front(), as));
  if (k.when.size() > 1 && k.still)
    put(text, " The last time: {}", without_the_limit(brief_words_of(*k.when.back(), as)));
  if (k.still && !*k.still) text += " At the last settled reading this was so no longer.";
  put(text, " What it may mean: {} Check first: {}", a.meaning, a.check_first);
  return text;
}

}  // namespace

section dangers(const reported& r) {
  section to{"DANGER", {}};
  for (const auto& k : found_kinds(r)) {
    if (k.grave != severity::danger) continue;
    to.parts.emplace_back(bullet{fmt::format("{}, {}: {} {}", capitalised(label_of(k.what)),
                                             times_of(k, r.as),
                                             brief_words_of(*k.when.front(), r.as),
                                             advice_on(k.what).check_first)});
  }
  if (to.parts.empty()) return {};
  return to;
}

section what_was_found(const reported& r) {
  section to{"What was found, the gravest first", {}};
  const auto kinds = found_kinds(r);
  if (kinds.empty()) {
    to.parts.emplace_back(paragraph{
        "No rule of practice and no limit spoke. That says nothing of what was not read."});
    return to;
  }
  to.parts.emplace_back(paragraph{std::string{precedence}});
  for (const auto& k : kinds) to.parts.emplace_back(bullet{in_full(k, r.as)});
  return to;
}

section before_anything_is_changed(const reported&) {
  section to{"Before anything is changed", {}};
  for (const std::string_view text :
       {"Carbon monoxide is not smelled. Where it is in the air of a room: people out, doors "
        "open, burner off, call for help from outside.",
        "Flue pipe, probe and flue gas burn skin. Let them cool or wear gloves made for it.",
        "Oil and its vapour burn. Close the oil valve before a line, filter or nozzle is opened, "
        "and take up what was spilled. After failed starts oil may lie in the chamber: look "
        "before the burner is started again.",
        "Switch the burner off at its emergency switch, and see that it is off, before a cover or "
        "the ignition is touched."})
    to.parts.emplace_back(bullet{std::string{text}});
  to.parts.emplace_back(paragraph{std::string{precedence}});
  return to;
}

}  // namespace stilling::reporting
