// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT

// A rule of one's own about readings taken one after another. In a file only; bounds are those of
// check(reading_rule).

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <utility>

#include "log_settings.hpp"

namespace stilling::command {
namespace {

constexpr std::array<std::string_view, 3> variations{"range", "from_mean", "successive"};

/// One distance for all, or one for each reading but the first.
void read_spacing(const words& said, reading_rule& to) {
  if (said.size() > to.apart.size())
    throw refusal{fmt::format("takes {} times at most", to.apart.size())};
  if (said.size() == 1) return to.set_apart(read_interval(said[0]));
  to.apart = {};
  for (std::size_t i = 0; i < said.size(); ++i) to.apart[i] = read_interval(said[i]);
}

/// "stack_temp=5 degF" for each channel; these are then the ones that are judged.
void read_tolerances(const words& said, reading_rule& to) {
  to.allowed = {};
  for (const auto& one : said) {
    const auto equals = std::min(one.find('='), one.size());
    const auto name = one.substr(0, equals);
    const auto c = find_channel(name);
    if (!c)
      throw refusal{fmt::format("'{}' is no channel; `stilling list channels` names them", name)};
    if (equals == one.size())
      throw refusal{fmt::format("'{}' has no tolerance; write \"{}=5 degF\"", one, name)};
    to.allowed.set(*c, read_tolerance(*c, std::string_view{one}.substr(equals + 1)));
  }
}

}  // namespace

settings_list rule_settings(log_options& to) {
  using enum setting::shape;
  auto& s = to.settings;
  settings_list all;
  // Whatever was changed, it is no longer the rule of that name; what follows from it is set anew.
  const auto add = [&](std::string_view key, setting::shape is, words governs, auto take) {
    governs.emplace_back("rule");
    all.push_back({.table = "criterion",
                   .key = key,
                   .is = is,
                   .take =
                       [&s, take](const words& said) {
                         auto rule = s.rule;
                         rule.name = {};
                         take(said, rule);
                         s.judge_by(rule);
                       },
                   .governs = std::move(governs)});
  };
  add("spacing", list, {"rule.apart"}, &read_spacing);
  add("mean", word, {"rule.mean"},
      [](const words& said, reading_rule& r) { r.mean = read_time(said[0]); });
  add("waiting", word, {"rule.waiting"},
      [](const words& said, reading_rule& r) { r.waiting = read_time(said[0]); });
  add("tolerance", rules, {"rule.allowed"}, &read_tolerances);
  all.back().takes_table = true;
  all.back().example = "5 degF";
  add("variation", word, {}, [](const words& said, reading_rule& r) {
    const auto at = std::ranges::find(variations, said[0]) - variations.begin();
    for (auto& t : r.allowed.slots) t.of = static_cast<variation>(at);
  });
  all.back().choices = {variations.begin(), variations.end()};
  add("once", flag, {},
      [](const words& said, reading_rule& r) { r.once = read_switch(said[0]); });
  add("readings", word, {"rule.readings"}, [](const words& said, reading_rule& r) {
    r.readings =
        static_cast<std::uint32_t>(read_whole_number(said[0], 1, static_cast<int>(most_readings)));
  });
  return all;
}

}  // namespace stilling::command
