// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT

// The same rules on warm-ups nobody made for us: series of timings, one a second say, each with a
// label that says after which value it had settled, or that it never did. real_logs.py brings them:
//
//     bench_warm_up    # standard input: a line per series, its label (-1: never), then its values
//
// The limit was fixed before the first look at any result: 5 % of the level (the median of the
// first minute) per window of a minute, for every rule. Series are scaled such that this is the 3
// degF/min all rules are written for; nothing else is changed, of ours or of the others.

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <iostream>
#include <optional>
#include <sstream>
#include <string>
#include <vector>

#include "tables.hpp"

namespace {

using namespace stilling;
using namespace stilling::scoreboard;

constexpr double share_of_level = 0.05;

struct labelled {
  course seen;
  double settled_after = 0;  // s; below 0: never
  double level = 0;          // median of what follows the label, or of all
};

std::vector<labelled> read_series() {
  std::vector<labelled> all;
  for (std::string line; std::getline(std::cin, line);) {
    std::istringstream words{line};
    labelled one;
    words >> one.settled_after;
    std::vector<double> values;
    for (double x = 0; words >> x;) values.push_back(x);
    if (values.size() < 120) continue;
    const double first = quantile({values.begin(), values.begin() + 60}, 0.5);
    const double scale = limit / share_of_level / first;
    for (std::size_t i = 0; i < values.size(); ++i)
      one.seen.rows.push_back({static_cast<double>(i), values[i] * scale});
    one.seen.length = static_cast<double>(values.size());
    const auto from = static_cast<std::ptrdiff_t>(std::max(0.0, one.settled_after));
    one.level = scale * quantile({values.begin() + from, values.end()}, 0.5);
    all.push_back(std::move(one));
  }
  return all;
}

/// Of a finished series: the plateau it ends with, if it does.
contender our_segments() {
  const auto last = [](const course& c) -> std::optional<segment> {
    std::vector<double> t, y;
    for (const auto& s : c.rows) t.push_back(s.t), y.push_back(s.y);
    const auto parts = find_segments(t, y, {.limit = limit / 60, .step = display_step});
    if (parts.empty() || parts.back().kind != segment_kind::plateau) return {};
    return parts.back();
  };
  contender who;
  who.name = "stilling, segments (finished log)";
  who.thresholds = {limit};
  who.watch = [last](const course& c, std::span<const double>) {
    const auto s = last(c);
    return std::vector<claim>{s ? claim{s->from} : claim{}};
  };
  who.read = [last](const course& c) -> std::optional<stated_reading> {
    const auto s = last(c);
    if (!s) return {};
    return stated_reading{s->settled_from, s->to, s->mean, 2 * s->standard_uncertainty, 0};
  };
  return who;
}

}  // namespace

int main() {
  display_step = 0.01;  // four digits were written
  const auto all = read_series();
  std::size_t never = 0;
  for (const auto& one : all) never += one.settled_after < 0 ? 1U : 0U;
  auto rules = baselines();
  rules.insert(rules.begin(), our_segments());
  rules.insert(rules.begin(), our_rule("stilling, field", "", session_settings{}));
  rules.insert(rules.begin(), our_rule("stilling, strict", "", strict_settings()));
  fmt::print("{} labelled series of timings, {} of them labelled never steady; limit 5 % of the "
             "level per minute.\nsaid: share of those labelled steady, and of those labelled "
             "never, with a claim. early: claims before\nthe label's moment. delay: after it, of "
             "those not early, s. Reading: its distance from the median of\nwhat follows the "
             "label, % of that. false: early, or said of one labelled never, of all series.\n\n"
             "{:<39}{:>8}{:>8}{:>9}{:>14}{:>8}{:>17}{:>8}{:>18}\n", all.size(), never, "rule",
             "said %", "never %", "early %", "delay median", "90 %", "reading: median", "90 %",
             "false %");
  for (const auto& who : rules) {
    std::size_t said = 0, said_never = 0, early = 0;
    std::vector<double> delays, errors, wrong;
    for (const auto& one : all) {
      const claim at = who.watch(one.seen, std::span{who.thresholds}.first(1)).front();
      const bool steady = one.settled_after >= 0;
      const bool too_early = steady && at && *at < one.settled_after;
      wrong.push_back(at && (!steady || too_early) ? 1 : 0);
      if (!at) continue;
      (steady ? said : said_never) += 1;
      if (!steady) continue;
      early += too_early ? 1U : 0U;
      if (!too_early) delays.push_back(*at - one.settled_after);
      const auto reading =
          who.read ? who.read(one.seen) : ordinary_mean(between(one.seen.rows, *at - 60, *at));
      if (reading) errors.push_back(100 * std::abs(reading->mean - one.level) / one.level);
    }
    const auto share = [](std::size_t part, std::size_t of) {
      return of > 0 ? percent(static_cast<double>(part) / static_cast<double>(of)) : "-";
    };
    fmt::print("{:<39}{:>8}{:>8}{:>9}{:>14}{:>8}{:>17}{:>8}{:>18}\n", who.name,
               share(said, all.size() - never), share(said_never, never),
               share(early, all.size() - never), middle_of(delays), middle_of(delays, 0.9),
               middle_of(errors), middle_of(errors, 0.9), percent_and_interval(wrong));
  }
}
