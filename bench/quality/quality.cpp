// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT

// How well "steady" is decided on one noisy, rounded, unevenly sampled stack temperature: our rule
// beside the rules others use, on invented approaches, ramps and departures whose true rate is
// known.
//
//     ./dev quality                                  # this and all the rest of the scoreboard
//     build/bench/bin/bench_quality                  # these tables
//     build/bench/bin/bench_quality --chart a.svg    # and the picture
//     build/bench/bin/bench_quality --runs 300 --seed 5000   # fewer, others
//
// Same seed, same figures. Nothing of ours is tuned here; tune on other seeds than those reported.

#include <fmt/format.h>

#include <CLI/CLI.hpp>
#include <algorithm>
#include <cstdint>
#include <cstdio>
#include <fstream>
#include <string>
#include <vector>

#include "chart.hpp"
#include "tables.hpp"

namespace {

using namespace stilling;
using namespace stilling::scoreboard;

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

template <class Make>
std::vector<course> make_all(std::size_t runs, std::uint64_t seed, Make make) {
  std::vector<course> all;
  for (std::size_t i = 0; i < runs; ++i) all.push_back(make(seed + i));
  return all;
}

/// Those worth a line in the picture: ours and what comes nearest.
bool has_line(const contender& who) {
  for (const char* label : {"stilling strict", "bound AR 120", "OLS 120", "end points x3",
                            "bound AR 180"})
    if (who.label == label) return true;
  return false;
}

bool write(const std::string& path, const std::string& svg) {
  if (path.empty()) return true;
  std::ofstream file{path};
  file << svg;
  file.close();
  if (!file) fmt::print(stderr, "{}: cannot be written; is there such a folder?\n", path);
  return static_cast<bool>(file);
}

}  // namespace

int main(int argc, char** argv) {
  CLI::App app{"How well \"steady\" is decided: our rule beside the rules others use."};
  std::size_t runs = 2000, ramp_runs = 1000, departure_runs = 500;
  std::uint64_t seed = 100'001;
  std::string chart, narrow_chart;
  app.add_option("--runs", runs, "Approaches")->check(CLI::Range(20, 1'000'000));
  app.add_option("--ramps", ramp_runs, "Ramps of each rate")->check(CLI::Range(20, 1'000'000));
  app.add_option("--departures", departure_runs, "Levels that are left")
      ->check(CLI::Range(20, 1'000'000));
  app.add_option("--seed", seed, "Of the first run; the others follow");
  app.add_option("--chart", chart, "Write the picture here, as SVG");
  app.add_option("--narrow-chart", narrow_chart, "The same for a narrow page");
  CLI11_PARSE(app, argc, argv);

  const auto approaches = make_all(runs, seed, invented_approach);
  const auto departures = make_all(departure_runs, seed, invented_departure);
  std::vector<std::vector<course>> ramps;
  for (const double rate : ramp_rates)
    ramps.push_back(make_all(ramp_runs, seed, [rate](auto s) { return invented_ramp(s, rate); }));

  auto all = baselines();
  all.insert(all.begin(), our_rule("stilling, field", "stilling field", session_settings{}));
  all.insert(all.begin(), our_rule("stilling, strict", "stilling strict", strict_settings()));
  std::vector<std::vector<outcome>> outcomes;
  std::vector<plotted> picture;
  for (std::size_t i = 0; i < all.size(); ++i) {
    outcomes.push_back(watch_all(all[i], approaches));
    picture.push_back(in_picture(all[i], outcomes.back(), i < 2, has_line(all[i])));
  }
  fmt::print("One stack temperature: {} invented approaches, {} ramps of each rate, {} levels that "
             "are left,\nseeds from {} on; limit {} degF/min, looks every {} s from {} s.\n", runs,
             ramp_runs, departure_runs, seed, limit, look_every, first_look);
  print_claims(all, outcomes);
  print_equal(all, outcomes);
  print_ramps(all, ramps);
  print_readings(all, approaches);
  print_releases(all, make_all(departure_runs, seed + departure_runs, invented_departure),
                 departures);
  print_finished_logs(std::min<std::size_t>(runs, 500), seed);
  const bool written = write(chart, chart_of(picture, runs));
  return write(narrow_chart, chart_of(picture, runs, 560)) && written ? 0 : 1;
}
