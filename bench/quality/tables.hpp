// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#pragma once

// The tables of the scoreboard, one row per rule. In brackets: 95 % bootstrap intervals.

#include <fmt/format.h>

#include <cmath>
#include <cstdint>
#include <cstdio>
#include <optional>
#include <string>
#include <vector>

#include "score.hpp"
#include "stilling/segment.hpp"

namespace stilling::scoreboard {

inline constexpr double ramp_rates[]{6, 4, 3.5, 2};
inline constexpr double equal_shares[]{0.005, 0.01};  // of premature claims
inline constexpr double equal_false_releases = 1;      // per hour of a level that is held

inline std::string percent(double share) { return fmt::format("{:.1f}", 100 * share); }

inline std::string share_and_limit(std::size_t hits, std::size_t of) {
  if (of == 0) return "-";
  return fmt::format("{} (<{:.2f})", percent(static_cast<double>(hits) / static_cast<double>(of)),
                     100 * upper_limit(hits, of));
}

inline std::string seconds(double s) {
  return s < for_ever ? fmt::format("{:.0f}", s) : std::string{"none"};
}

inline std::string seconds_and_interval(const std::optional<interval>& found) {
  if (!found) return "-";
  return fmt::format("{} [{} {}]", seconds(found->value), seconds(found->low),
                     seconds(found->high));
}

inline std::string seconds_and_interval(const std::vector<double>& x, double q) {
  return seconds_and_interval(quantile_interval(x, q));
}

inline std::string percent_and_interval(const std::vector<double>& x) {
  const auto found = bootstrap(x, mean_of);
  if (!found) return "-";
  return fmt::format("{} [{} {}]", percent(found->value), percent(found->low),
                     percent(found->high));
}

inline std::string middle_of(const std::vector<double>& x, double q = 0.5) {
  return x.empty() ? std::string{"-"} : fmt::format("{:.2f}", quantile(x, q));
}

inline void print_claims(const std::vector<contender>& all,
                         const std::vector<std::vector<outcome>>& outcomes) {
  fmt::print("\nCLAIMS, each rule as it stands. premature: share of runs claimed while the true\n"
             "rate is above 3, 4, 6 degF/min, with the upper 95 % limit for 3. Delay after the\n"
             "true rate is within the limit for good, s, of the runs with a claim. Rate degF/min\n"
             "and rise still to come, degF: medians at the claim.\n\n"
             "{:<39}{:>8} {:>14}{:>7}{:>7} {:>18} {:>18}{:>7}{:>8}\n", "rule", "claims %",
             "premature >3", ">4", ">6", "delay median", "delay 90 %", "rate", "rise");
  for (std::size_t i = 0; i < all.size(); ++i) {
    const outcome& o = outcomes[i].front();
    fmt::print("{:<39}{:>8} {:>14}{:>7}{:>7} {:>18} {:>18}{:>7}{:>8}\n", all[i].name,
               percent(o.share(o.claimed)), share_and_limit(o.above_3, o.runs),
               percent(o.share(o.above_4)), percent(o.share(o.above_6)),
               seconds_and_interval(o.delays, 0.5), seconds_and_interval(o.delays, 0.9),
               middle_of(o.rates), middle_of(o.remaining));
  }
}

inline void print_equal(const std::vector<contender>& all,
                        const std::vector<std::vector<outcome>>& outcomes) {
  fmt::print("\nDELAY AT EQUAL PREMATURE RATE, s, of all runs: read off the line along which each\n"
             "rule's threshold moves it, where that share of the runs is premature. For ours the\n"
             "threshold is the limit it is told. -: premature more often at every threshold;\n"
             "none: where it is not, most runs never see a claim.\n\n"
             "{:<39}", "rule");
  for (const double share : equal_shares)
    fmt::print("{:>20}{:>20}", fmt::format("{} %: median", 100 * share), "90 %");
  fmt::print("\n");
  for (std::size_t i = 0; i < all.size(); ++i) {
    if (all[i].thresholds.size() < 2) continue;
    fmt::print("{:<39}", all[i].name);
    for (const double share : equal_shares)
      for (const double q : {0.5, 0.9})
        fmt::print("{:>20}", seconds_and_interval(
                                 delay_interval_at(outcomes[i], all[i].thresholds, share, q)));
    fmt::print("\n");
    std::fflush(stdout);
  }
}

inline void print_ramps(const std::vector<contender>& all,
                        const std::vector<std::vector<course>>& ramps) {
  fmt::print("\nRAMPS. Share with any claim within 14 min, %, with the upper 95 % limit; at 2\n"
             "degF/min a claim is right.\n\n{:<39}", "rule");
  for (const double rate : ramp_rates) fmt::print("{:>18}", fmt::format("{} degF/min", rate));
  fmt::print("\n");
  for (const auto& who : all) {
    fmt::print("{:<39}", who.name);
    for (const auto& some : ramps)
      fmt::print("{:>18}", share_and_limit(ramps_claimed(who, some), some.size()));
    fmt::print("\n");
  }
}

inline void print_readings(const std::vector<contender>& all, std::span<const course> courses) {
  fmt::print("\nREADINGS at the claim: ours as it gives it; of the others the mean of the minute\n"
             "before (finished logs: of what is kept) with an interval that knows autocorrelation\n"
             "and rounding. Error of the level: against the true mean over the same rows; of the\n"
             "final value: against where the approach ends, degF. Intervals: share that holds it,\n"
             "%; ours with the rise it expects still to come.\n\n"
             "{:<39}{:>14}{:>7} {:>20} {:>14}{:>7} {:>20}\n", "rule", "level: median", "95 %",
             "interval holds it", "final: median", "95 %", "interval holds it");
  for (const auto& who : all) {
    const reading_outcome o = read_all(who, courses);
    fmt::print("{:<39}{:>14}{:>7} {:>20} {:>14}{:>7} {:>20}\n", who.name,
               middle_of(o.level_errors), middle_of(o.level_errors, 0.95),
               percent_and_interval(o.holds_level), middle_of(o.final_errors),
               middle_of(o.final_errors, 0.95), percent_and_interval(o.holds_final));
  }
}

inline void print_releases(const std::vector<contender>& all, std::span<const course> tuning,
                           std::span<const course> courses) {
  fmt::print("\nRELEASE from a level that is left, {} runs. held: share of runs in which the rule\n"
             "held when the level was left. false/h: how often it was taken back before, an hour.\n"
             "Delay until it is taken back, s, of those held; looks are {} s apart. Equal: at the\n"
             "threshold with the least median delay among those with at most {} false an hour in\n"
             "as many other runs.\n\n{:<39}{:>7}{:>9} {:>18} {:>18}   {:>9}{:>9} {:>18} {:>18}\n",
             courses.size(), look_every, equal_false_releases, "rule", "held %", "false/h",
             "delay median", "delay 90 %", "equal: at", "false/h", "delay median", "delay 90 %");
  for (const auto& who : all) {
    if (!who.follow) continue;
    const auto outcomes = release_all(who, courses);
    const auto& o = outcomes.front();
    fmt::print("{:<39}{:>7}{:>9.2f} {:>18} {:>18}   ", who.name,
               percent(static_cast<double>(o.settled) / static_cast<double>(o.runs)),
               o.false_per_hour(), seconds_and_interval(o.delays, 0.5),
               seconds_and_interval(o.delays, 0.9));
    const auto best = quickest_release(release_all(who, tuning), equal_false_releases);
    if (best) {
      const auto& e = outcomes[*best];
      fmt::print("{:>9.3g}{:>9.2f} {:>18} {:>18}\n", who.thresholds[*best], e.false_per_hour(),
                 seconds_and_interval(e.delays, 0.5), seconds_and_interval(e.delays, 0.9));
    } else {
      fmt::print("out of reach\n");
    }
    std::fflush(stdout);
  }
}

/// Mean of what a cut leaves of a finished warm-up log against the value the course ends at.
inline void print_finished_logs(std::size_t runs, std::uint64_t seed) {
  struct method {
    const char* name;
    std::optional<std::size_t> (*cut)(rows);
  };
  const method methods[]{
      {"none", [](rows) { return std::optional<std::size_t>{0}; }},
      {"MSER", [](rows r) { return mser(r, 1, true); }},
      {"MSER-5", [](rows r) { return mser(r, 5, true); }},
      {"Chodera, 15 cuts", [](rows r) { return std::optional{most_independent_cut(r)}; }},
      {"root-n least error, 15 cuts", [](rows r) { return std::optional{least_error_cut(r)}; }},
      {"stilling, segments", nullptr},
  };
  fmt::print("\nFINISHED LOGS: {} warm-ups, 1 Hz, 25 min: mean of what is kept against the final "
             "value, degF.\n\n{:<39}{:>13}{:>11}{:>8}{:>24}{:>22}\n", runs, "cut", "bias median",
             "mean", "RMSE", "rise left median, 90 %", "rate median, 90 %");
  for (const auto& [name, cut] : methods) {
    std::vector<double> bias, left, rate;
    double sum = 0, squares = 0;
    std::size_t without = 0;
    for (std::size_t i = 0; i < runs; ++i) {
      const course c = invented_warm_up(seed + i);
      double mean = 0, from = 0;
      if (cut) {
        const std::size_t d = cut(c.rows).value_or(0);
        const rows kept = rows{c.rows}.subspan(d);
        for (const auto& s : kept) mean += s.y / static_cast<double>(kept.size());
        from = c.rows[d].t;
      } else {
        std::vector<double> t, y;
        for (const auto& s : c.rows) t.push_back(s.t), y.push_back(s.y);
        const auto parts = find_segments(t, y, {.limit = limit / 60, .step = display_step});
        if (parts.empty() || parts.back().kind != segment_kind::plateau) {
          ++without;
          continue;
        }
        mean = parts.back().mean;
        from = parts.back().settled_from;
      }
      bias.push_back(mean - c.final_value());
      sum += bias.back();
      squares += bias.back() * bias.back();
      left.push_back(c.remaining(from));
      rate.push_back(c.rate(from));
    }
    if (bias.empty()) continue;
    const auto n = static_cast<double>(bias.size());
    fmt::print("{:<39}{:>13.2f}{:>11.2f}{:>8.2f}{:>15.1f}{:>9.1f}{:>13.2f}{:>9.2f}\n", name,
               quantile(bias, 0.5), sum / n, std::sqrt(squares / n), quantile(left, 0.5),
               quantile(left, 0.9), quantile(rate, 0.5), quantile(rate, 0.9));
    if (without > 0) fmt::print("  ({} without a last plateau, left out)\n", without);
  }
}

}  // namespace stilling::scoreboard
