// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#include "opening.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "rule_words.hpp"
#include "stilling/terms/published_criteria.hpp"

namespace stilling::command {

std::size_t opening::push(std::string_view bytes) {
  const auto sink = overloaded{[&](const layout& l) {
                                 if (!found_) found_ = l;
                               },
                               [](const auto&) {}};
  std::size_t taken = 0;
  while (taken < bytes.size() && !over()) {
    // A line at a time, so that the cut does not depend on the pieces.
    const auto end = bytes.find_first_of("\r\n", taken);
    const auto line = std::min(end == std::string_view::npos ? bytes.size() : end + 1,
                               taken + (most - held_.size()));
    const auto part = bytes.substr(taken, line - taken);
    reader_.push(part, sink);
    held_ += part;
    taken = line;
  }
  return taken;
}

void opening::finish() {
  reader_.finish(overloaded{[&](const layout& l) {
                              if (!found_) found_ = l;
                            },
                            [](const auto&) {}});
}

namespace {

std::string listed(channel_set set) {
  std::string names;
  for (const auto c : all_channels) {
    if (!set.contains(c)) continue;
    if (!names.empty()) names += ", ";
    names += traits_of(c).name;
  }
  return names;
}

}  // namespace

std::vector<std::string> reading_assumptions(const log_options& asked, const layout& columns) {
  std::vector<std::string> out;
  if (asked.settings.timeline.hold)
    out.emplace_back("change_only: a missing row was taken for no change");
  if (!asked.time_zone.empty() && columns.time.form == clock_form::stamp)
    out.push_back(
        fmt::format("time_zone: times without an offset were read as those of {}, as --time-zone "
                    "says",
                    asked.time_zone));
  return out;
}

fitted_settings fit(const log_options& asked, const layout* columns) {
  fitted_settings out{asked.settings, {}, {}};
  if (columns == nullptr) return out;
  out.assumptions = reading_assumptions(asked, *columns);
  const bool has_oxygen = columns->find(channel::o2) != nullptr;
  const auto& rule = asked.settings.rule;
  out.settings.phase.combustion_check =
      asked.combustion_check.value_or(has_oxygen && rule.needs_fire);
  if (!has_oxygen && !asked.combustion_check && rule.needs_fire)
    out.assumptions.push_back(
        "combustion_check: the log has no O2, so no fire was asked for; --combustion-check on "
        "asks");
  channel_set there, absent;
  for (const auto c : all_channels)
    if (asked.settings.phase.required.contains(c))
      (columns->find(c) != nullptr ? there : absent).insert(c);
  if (const auto* published = find_published(rule.name))
    out.assumptions.push_back(fmt::format(
        "criterion: {} is {} ({}); what it asks for beside was taken to hold: {}", published->name,
        in_words(rule, asked.settings.phase.required), published->source, published->leaves_out));
  if (absent.empty()) return out;
  if (rule.readings > 0 && !asked.required_by_hand) {
    out.refusal = fmt::format("{} asks for {}, but the log has no such column",
                              rule.name.empty() ? "the criterion" : rule.name, listed(absent));
    return out;
  }
  if (asked.required_by_hand || there.empty()) {
    out.refusal =
        fmt::format("{} must be steady, but the log has no such column; --require names others",
                    listed(absent));
    return out;
  }
  out.settings.require(there);
  out.assumptions.push_back(fmt::format("required: the log has no {}; settled means {} alone",
                                        listed(absent), listed(there)));
  return out;
}

}  // namespace stilling::command
