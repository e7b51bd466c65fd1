// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT

// Writes a corpus of invented tests with their truth, for tuning and scoring a detector.
//
//     make_corpus FOLDER FIRST_SEED LAST_SEED [--only SCENARIO] [--noise FACTOR] [--grid]
//
// For each seed one test of every scenario from wide draws: SCENARIO-sSEED.csv and .truth.json.
// --grid: instead, cold starts from plain draws with one factor at a time at several levels.
// Exit status 2: usage, or a file that cannot be written.

#include <cstdio>
#include <cstdlib>
#include <fstream>
#include <iterator>
#include <string>
#include <string_view>
#include <vector>

#include "simulate/scenario.hpp"

namespace {

namespace invented = stilling::invented;

struct factor {
  std::string_view name;
  std::vector<double> levels;
  void (*set)(invented::test_plan&, double);
};

invented::noise_make& noise(invented::test_plan& plan) { return plan.analyzer.noise; }

void set_correlation(invented::test_plan& plan, double tau) {
  noise(plan).correlation_s.fill(tau);
  noise(plan).white[invented::stack] = 0.0;
  noise(plan).correlated[invented::stack] = 1.0;
}

/// After detection practice: sampling, noise, display and appliance, each over its whole range.
const std::vector<factor>& grid() {
  static const auto factors = std::vector<factor>{
      {"interval", {0.5, 1, 2, 5, 10}, [](auto& p, double x) { p.rows.interval_s = x; }},
      {"jitter",
       {0, 0.1, 0.25, 0.45},
       [](auto& p, double x) {
         p.rows.jitter = x;
         p.rows.stamp_decimals = 3;
       }},
      {"lost", {0.02, 0.1, 0.2}, [](auto& p, double x) { p.rows.lost = x; }},
      {"stack_sigma",
       {0.1, 0.3, 1, 2, 3},
       [](auto& p, double x) {
         noise(p).white[invented::stack] = x;
         noise(p).correlated[invented::stack] = 0.0;
       }},
      {"correlation", {0, 5, 15, 30}, set_correlation},
      {"stack_step",
       {1, 5, 10, 20, 50},
       [](auto& p, double tenths) {
         p.analyzer.display[invented::stack] = {static_cast<int>(tenths), 1};
       }},
      {"gas_path", {15, 60, 120, 240}, [](auto& p, double x) { p.burner.gas_path_s = x; }},
      {"shell", {60, 120, 300, 600}, [](auto& p, double x) { p.burner.shell_s = x; }},
      {"spikes", {0.001, 0.01, 0.05}, [](auto& p, double x) { noise(p).spike_share = x; }},
      {"oxygen_drift",
       {-12, -6, -3, 3, 6, 12},  // percent an hour; the limit is 6
       [](auto& p, double x) { p.analyzer.errors.drift_per_h[invented::oxygen] = x; }},
  };
  return factors;
}

bool write(const std::string& folder, const invented::simulation& test) {
  auto log = std::ofstream{folder + "/" + test.name + ".csv", std::ios::binary};
  auto truth = std::ofstream{folder + "/" + test.name + ".truth.json", std::ios::binary};
  write_log(test, log);
  write_truth(test, truth);
  log.close();
  truth.close();
  if (log && truth) return true;
  std::fprintf(stderr, "cannot write %s in %s: does the folder exist?\n", test.name.c_str(),
               folder.c_str());
  return false;
}

int usage() {
  std::fprintf(stderr,
               "usage: make_corpus FOLDER FIRST_SEED LAST_SEED [--only SCENARIO] [--noise FACTOR] "
               "[--grid]\n");
  return 2;
}

struct request {
  std::string folder, only;
  unsigned long first = 1, last = 0;
  bool grid = false;
  invented::simulation_options options{.draws = invented::breadth::wide, .remarks = false};
};

bool write_grid(const request& wanted, unsigned long seed) {
  for (const auto& it : grid()) {
    for (const auto level : it.levels) {
      char family[64];
      std::snprintf(family, sizeof family, "%.*s_%g", static_cast<int>(it.name.size()),
                    it.name.data(), level);
      auto options = wanted.options;
      options.draws = invented::breadth::plain;
      options.family = family;
      options.adjust = it.set;
      options.adjust_to = level;
      if (!write(wanted.folder, invented::simulate("cold_start", seed, options))) return false;
    }
  }
  return true;
}

bool write_scenarios(const request& wanted, unsigned long seed) {
  for (const auto& it : invented::scenarios()) {
    if (wanted.only.empty() ? it.for_show : wanted.only != it.name) continue;
    if (!write(wanted.folder, invented::simulate(it.name, seed, wanted.options))) return false;
  }
  return true;
}

}  // namespace

int main(int count, char** arguments) {
  const auto given = std::vector<std::string>(arguments + 1, arguments + count);
  if (given.size() < 3) return usage();
  auto wanted = request{};
  wanted.folder = given[0];
  wanted.first = std::strtoul(given[1].c_str(), nullptr, 10);
  wanted.last = std::strtoul(given[2].c_str(), nullptr, 10);
  for (auto it = given.begin() + 3; it != given.end(); ++it) {
    const auto last = std::next(it) == given.end();
    if (*it == "--grid") {
      wanted.grid = true;
    } else if (*it == "--only" && !last) {
      wanted.only = *++it;
    } else if (*it == "--noise" && !last) {
      wanted.options.noise_scale = std::strtod((++it)->c_str(), nullptr);
    } else {
      return usage();
    }
  }
  if (!wanted.only.empty() && invented::find_scenario(wanted.only) == nullptr) {
    std::fprintf(stderr, "no scenario %s; there are:\n", wanted.only.c_str());
    for (const auto& it : invented::scenarios()) {
      std::fprintf(stderr, "  %.*s\n", static_cast<int>(it.name.size()), it.name.data());
    }
    return 2;
  }
  for (auto seed = wanted.first; seed <= wanted.last; ++seed) {
    const auto written = wanted.grid ? write_grid(wanted, seed) : write_scenarios(wanted, seed);
    if (!written) return 2;
  }
  return 0;
}
