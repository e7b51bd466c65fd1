// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT

// How well "steady" is decided on one noisy, rounded, unevenly sampled stack temperature: our rule
// beside the rules others use, on invented approaches and ramps whose true rate is known.
//
//     cmake -B build -DCMAKE_BUILD_TYPE=Release -DSTILLING_BENCH=ON
//     cmake --build build --target bench_quality
//     build/bin/bench_quality                        # the tables
//     build/bin/bench_quality --chart quality.svg    # and the picture
//     build/bin/bench_quality --runs 300 --seed 5000 # fewer, others
//
// Same seed, same figures. Nothing of ours is tuned here; tune on other seeds than those reported.

#include <fmt/format.h>

#include <CLI/CLI.hpp>
#include <cmath>
#include <cstdint>
#include <cstdio>
#include <fstream>
#include <optional>
#include <string>
#include <vector>

#include "chart.hpp"
#include "score.hpp"

namespace {

using namespace stilling;
using namespace stilling::scoreboard;

constexpr double ramp_rates[]{6, 4, 3.5, 2};
constexpr double equal_share = 0.01;

std::string percent(double share) { return fmt::format("{:.1f}", 100 * share); }

std::string with_limit(std::size_t hits, std::size_t of) {
  if (of == 0) return "-";
  return fmt::format("{} (<{})", percent(static_cast<double>(hits) / static_cast<double>(of)),
                     fmt::format("{:.2f}", 100 * upper_limit(hits, of)));
}

std::string with_interval(const std::vector<double>& x, double q) {
  const auto found = quantile_interval(x, q);
  if (!found) return "-";
  return fmt::format("{:.0f} [{:.0f} {:.0f}]", found->value, found->low, found->high);
}

std::string at_equal_share(const contender& who, const std::vector<outcome>& all) {
  if (all.size() < 2) return "-";
  const auto best = quickest_within(all, equal_share);
  if (!best) return "out of reach";
  const auto late = all[*best].delay_of_all(0.9);
  return fmt::format("{:.0f} / {} at {:.3g}", *all[*best].delay_of_all(0.5),
                     late ? fmt::format("{:.0f}", *late) : "none", who.thresholds[*best]);
}

void print_heading(std::size_t runs, std::size_t ramps) {
  fmt::print(
      "{} approaches, {} ramps of each rate; limit {} degF/min, looks every {} s from {} s.\n"
      "premature: share of runs claimed while the true rate is above 3, 4, 6 degF/min, with the\n"
      "upper 95 % limit for 3. Delay after the true rate is within the limit for good, s, of the\n"
      "runs with a claim; 95 % bootstrap intervals. Rate degF/min, rise left degF: medians at\n"
      "the claim. Ramps: share with any claim within 14 min; at 2 degF/min a claim is right.\n"
      "Equal: median / 90 % delay of all runs, at the threshold with the least median among those\n"
      "where at most {} % are premature; for ours the threshold is the limit it is told.\n\n",
      runs, ramps, limit, look_every, first_look, 100 * equal_share);
  fmt::print("{:<39}{:>7} {:>13}{:>6}{:>6} {:>16} {:>18}{:>6}{:>7} {:>7}{:>6}{:>6}{:>6}  {}\n",
             "rule", "claims", "premature >3", ">4", ">6", "delay median", "90 %", "rate",
             "rise", "ramp 6", "4", "3.5", "2", "equal");
}

void print_row(const contender& who, const std::vector<outcome>& all,
               const std::vector<std::vector<course>>& ramps) {
  const outcome& o = all.front();
  const auto middle = [](const std::vector<double>& x) {
    return x.empty() ? std::string{"-"} : fmt::format("{:.2f}", quantile(x, 0.5));
  };
  fmt::print("{:<39}{:>7} {:>13}{:>6}{:>6} {:>16} {:>18}{:>6}{:>7} ", who.name,
             percent(o.share(o.claimed)), with_limit(o.above_3, o.runs),
             percent(o.share(o.above_4)), percent(o.share(o.above_6)),
             with_interval(o.delays, 0.5), with_interval(o.delays, 0.9), middle(o.rates),
             middle(o.remaining));
  for (const auto& some : ramps) {
    const auto hits = static_cast<double>(ramps_claimed(who, some));
    fmt::print("{:>6}", some.empty() ? "-" : percent(hits / static_cast<double>(some.size())));
  }
  fmt::print("   {}\n", at_equal_share(who, all));
  std::fflush(stdout);
}

plotted in_picture(const contender& who, const std::vector<outcome>& all, bool ours,
                   bool with_line) {
  const outcome& o = all.front();
  plotted p;
  p.label = who.label;
  p.ours = ours;
  p.at = {o.share(o.above_3), o.delays.empty() ? 1e9 : quantile(o.delays, 0.5)};
  for (const auto& each : all)
    if (with_line && each.delay_of_all(0.5))
      p.along.push_back({each.share(each.above_3), *each.delay_of_all(0.5)});
  return p;
}

/// Mean of what a cut leaves of a finished warm-up log against the value the course ends at.
void print_finished_logs(std::size_t runs, std::uint64_t seed) {
  struct method {
    const char* name;
    std::optional<std::size_t> (*cut)(rows);
  };
  const method methods[]{
      {"none", [](rows) { return std::optional<std::size_t>{0}; }},
      {"MSER", [](rows r) { return mser(r, 1, true); }},
      {"MSER-5", [](rows r) { return mser(r, 5, true); }},
      {"root-n least error, 15 cuts", [](rows r) { return std::optional{least_error_cut(r)}; }},
  };
  fmt::print("\n{} finished warm-up logs, 1 Hz, 25 min: mean of what is kept against the final "
             "value, degF\n{:<30}{:>13}{:>11}{:>8}{:>24}{:>22}\n", runs, "cut", "bias median",
             "mean", "RMSE", "rise left median, 90 %", "rate median, 90 %");
  for (const auto& [name, cut] : methods) {
    std::vector<double> bias, left, rate;
    double sum = 0, squares = 0;
    for (std::size_t i = 0; i < runs; ++i) {
      const course c = invented_warm_up(seed + i);
      const std::size_t d = cut(c.rows).value_or(0);
      double mean = 0;
      for (const auto& s : rows{c.rows}.subspan(d))
        mean += s.y / static_cast<double>(c.rows.size() - d);
      bias.push_back(mean - c.start - c.rise);
      sum += bias.back();
      squares += bias.back() * bias.back();
      left.push_back(c.remaining(c.rows[d].t));
      rate.push_back(c.rate(c.rows[d].t));
    }
    const auto n = static_cast<double>(runs);
    fmt::print("{:<30}{:>13.2f}{:>11.2f}{:>8.2f}{:>15.1f}{:>9.1f}{:>13.2f}{:>9.2f}\n", name,
               quantile(bias, 0.5), sum / n, std::sqrt(squares / n), quantile(left, 0.5),
               quantile(left, 0.9), quantile(rate, 0.5), quantile(rate, 0.9));
  }
}

}  // namespace

int main(int argc, char** argv) {
  CLI::App app{"How well \"steady\" is decided: our rule beside the rules others use."};
  std::size_t runs = 2000, ramp_runs = 1000;
  std::uint64_t seed = 100'001;
  std::string chart;
  app.add_option("--runs", runs, "Approaches")->check(CLI::Range(20, 1'000'000));
  app.add_option("--ramps", ramp_runs, "Ramps of each rate")->check(CLI::Range(20, 1'000'000));
  app.add_option("--seed", seed, "Of the first run; the others follow");
  app.add_option("--chart", chart, "Write the picture here, as SVG");
  CLI11_PARSE(app, argc, argv);

  std::vector<course> approaches;
  for (std::size_t i = 0; i < runs; ++i) approaches.push_back(invented_approach(seed + i));
  std::vector<std::vector<course>> ramps;
  for (const double rate : ramp_rates) {
    auto& some = ramps.emplace_back();
    for (std::size_t i = 0; i < ramp_runs; ++i) some.push_back(invented_ramp(seed + i, rate));
  }

  auto all = baselines();
  all.insert(all.begin(), our_rule("stilling, field", "stilling field", session_settings{}));
  all.insert(all.begin(), our_rule("stilling, strict", "stilling strict", strict_settings()));
  std::vector<plotted> picture;
  print_heading(runs, ramp_runs);
  for (std::size_t i = 0; i < all.size(); ++i) {
    const auto outcomes = watch_all(all[i], approaches);
    print_row(all[i], outcomes, ramps);
    const bool strong = i == 0 || all[i].label == "bound AR 120" || all[i].label == "OLS 120" ||
                        all[i].label == "end points x3" || all[i].label == "bound AR 180";
    picture.push_back(in_picture(all[i], outcomes, i < 2, strong));
  }
  print_finished_logs(std::min<std::size_t>(runs, 500), seed);
  if (chart.empty()) return 0;
  std::ofstream file{chart};
  file << chart_of(picture, runs);
  file.close();
  if (file) return 0;
  fmt::print(stderr, "{}: cannot be written; name a file in a folder that exists\n", chart);
  return 1;
}
