// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT

// A criterion by its name; or of one's own: how fast each channel may move, how sure to be of it,
// and how long to look. The latter in a file only; bounds are those of check(session_settings).

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <utility>

#include "log_settings.hpp"
#include "stilling/terms/published_criteria.hpp"

namespace stilling::command {

namespace {

words criterion_names() {
  words names{"field", "strict"};
  for (const auto& c : published_criteria) names.emplace_back(c.name);
  return names;
}

session_settings criterion_of(std::string_view name) {
  if (name == "strict") return strict_settings();
  const auto* published = find_published(name);
  return published != nullptr ? settings_of(*published) : session_settings{};
}

/// All that a criterion decides.
void adopt(session_settings& to, std::string_view name) {
  const auto from = criterion_of(name);
  to.screen = from.screen;
  to.steadiness = from.steadiness;
  to.phase = from.phase;
  to.plateau = from.plateau;
  to.rule = from.rule;
}

/// Up to four, seconds; the last one stands in for those that are not named.
void read_windows(const words& said, std::array<double, 4>& to) {
  if (said.size() > to.size()) throw refusal{fmt::format("takes {} times at most", to.size())};
  for (std::size_t i = 0; i < to.size(); ++i)
    to[i] = in_seconds(read_time(said[std::min(i, said.size() - 1)]));
}

}  // namespace

settings_list criterion_settings(log_options& to) {
  using enum setting::shape;
  auto& s = to.settings;
  settings_list all;
  all.push_back({.heading = heading::judging,
                 .key = "criterion",
                 .option = "--criterion",
                 .type = "NAME|FILE",
                 .about =
                     "What settled is: field, strict, one that is published, or a file with a "
                     "[criterion] of your own; see `stilling list criteria` (field)",
                 .choices = criterion_names(),
                 .take = [&](const words& said) { adopt(s, said[0]); }});

  const auto add = [&](std::string_view key, std::string_view governs,
                       std::function<void(std::string_view)> take) {
    all.push_back({.table = "criterion",
                   .key = key,
                   .take = [take = std::move(take)](const words& said) { take(said[0]); },
                   .governs = {std::string{governs}}});
  };
  const auto number = [&](std::string_view key, std::string_view governs, double& x) {
    add(key, governs, [&x](std::string_view text) { x = read_plain_number(text); });
  };
  const auto share = [&](std::string_view key, std::string_view governs, double& x) {
    add(key, governs, [&x](std::string_view text) { x = read_share(text); });
  };
  const auto time = [&](std::string_view key, std::string_view governs, duration& d) {
    add(key, governs, [&d](std::string_view text) { d = read_time(text); });
  };
  const auto count = [&](std::string_view key, std::string_view governs, std::uint32_t& n) {
    add(key, governs, [&n](std::string_view text) {
      n = static_cast<std::uint32_t>(read_whole_number(text, 0, 1000));
    });
  };

  add("based_on", "", [&](std::string_view name) { adopt(s, name); });
  all.back().choices = criterion_names();
  for (auto& one : rule_settings(to)) all.push_back(std::move(one));
  for (const auto c : all_channels)
    add(traits_of(c).name, "", [&s, c](std::string_view text) {
      const double rate = read_rate(c, text);
      s.limit(c, rate);
      // One minute's allowance, as screen_settings has it.
      s.screen.floor.per_second[index_of(c)] = rate;
    });
  auto& steady = s.steadiness;
  number("claim_factor", "steadiness.claim_factor", steady.claim_factor);
  number("release_factor", "steadiness.release_factor", steady.release_factor);
  share("confidence", "steadiness.confidence", steady.confidence);
  all.push_back({.table = "criterion",
                 .key = "windows",
                 .is = list,
                 .take = [&](const words& said) { read_windows(said, steady.spans); },
                 .governs = {"steadiness.spans"}});
  share("least_cover", "steadiness.least_cover", steady.least_cover);
  share("longest_gap", "steadiness.longest_gap", steady.longest_gap);
  count("least_count", "steadiness.least_count", steady.least_count);
  number("precision", "steadiness.precision", steady.precision);
  share("resolution_weight", "steadiness.resolution_weight", steady.resolution_weight);
  number("departure", "steadiness.departure", steady.departure);
  number("departure_sigmas", "steadiness.departure_sigmas", steady.departure_sigmas);
  time("persistence", "steadiness.persistence", steady.persistence);
  number("outlier_factor", "screen.outlier_factor", s.screen.outlier_factor);
  count("history", "screen.history", s.screen.history);
  number("overdue_changes", "screen.overdue_changes", s.screen.overdue_changes);
  add("fire_oxygen", "phase.fire_oxygen",
      [&](std::string_view text) { s.phase.fire_oxygen = read_fraction(text); });
  add("air_oxygen", "phase.fire_oxygen",
      [&](std::string_view text) { s.phase.air_oxygen = read_fraction(text); });
  add("fire_net_temperature", "phase.fire_net_temperature",
      [&](std::string_view text) { s.phase.fire_net_temperature = read_warmer(text); });
  time("dwell", "phase.dwell", s.phase.dwell);
  add("gap", "phase.gap",
      [&](std::string_view text) { s.phase.gap = s.plateau.gap = read_time(text); });
  time("naming", "plateau.naming", s.plateau.naming);
  return all;
}

}  // namespace stilling::command
