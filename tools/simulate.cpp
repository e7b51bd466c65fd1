// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT

// An invented test with known truth.

#include <fmt/format.h>

#include <sstream>
#include <string>

#include "simulate/scenario.hpp"
#include "sources.hpp"
#include "verbs.hpp"

namespace stilling::command {
namespace {

int list_scenarios(outlet& out) {
  std::string text;
  for (const auto& s : invented::scenarios()) text += fmt::format("{:<19}{}\n", s.name, s.sentence);
  out.write(text);
  return done;
}

/// Into a file, or where none is named to standard output.
bool put(const std::string& path, std::string_view text) {
  if (path.empty()) {
    outlet out;
    if (out.write(text) || out.is() == outlet::state::closed_by_reader) return true;
    complain(fmt::format("standard output: {}", out.fault()));
    return false;
  }
  outlet to{path, outlet::manner::whole};
  to.write(text);
  if (to.keep()) return true;
  complain(fmt::format("{}: {}", path, to.fault()));
  return false;
}

}  // namespace

int simulate(const simulate_request& r) {
  if (r.scenario.empty()) {
    outlet out;
    return list_scenarios(out);
  }
  if (invented::find_scenario(r.scenario) == nullptr) {
    complain(fmt::format("no scenario is called '{}'; `stilling simulate --list` names them",
                         r.scenario));
    return not_understood;
  }
  const auto test = invented::simulate(r.scenario, r.seed, {});
  std::ostringstream log;
  invented::write_log(test, log);
  if (!put(r.log, log.view())) return not_understood;
  if (r.truth.empty()) return done;
  std::ostringstream truth;
  invented::write_truth(test, truth);
  return put(r.truth, truth.view()) ? done : not_understood;
}

}  // namespace stilling::command
