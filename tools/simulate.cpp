// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT

// An invented test with known truth.

#include <fmt/format.h>

#include <algorithm>
#include <charconv>
#include <chrono>
#include <optional>
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

/// Each row when its time has come; what stands before it comes with it.
bool put_paced(std::string_view text, double pace) {
  outlet out;
  const auto begun = std::chrono::steady_clock::now();
  std::optional<double> first;
  std::string held;  // names and notes, until the row after them
  while (!text.empty() && out.is() == outlet::state::open) {
    const auto line = text.substr(0, text.find('\n') + 1);
    text.remove_prefix(line.size());
    held += line;
    double at = 0;
    if (std::from_chars(line.data(), line.data() + line.size(), at).ec != std::errc{}) continue;
    if (!first) first = at;
    const auto due =
        begun + std::chrono::duration_cast<std::chrono::steady_clock::duration>(
                    std::chrono::duration<double>{std::max(at - *first, 0.0) / pace});
    for (auto left = due - std::chrono::steady_clock::now(); left > left.zero();
         left = due - std::chrono::steady_clock::now()) {
      const auto ms = std::chrono::ceil<std::chrono::milliseconds>(left);
      if (wait_for(-1, std::min(ms, std::chrono::milliseconds{60'000})) == wake::stopped)
        return true;
    }
    out.write(held);
    held.clear();
  }
  out.write(held);
  if (out.is() != outlet::state::failed) return true;
  complain(fmt::format("standard output: {}", out.fault()));
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
  const bool paced = r.pace > 0 && r.log.empty();
  if (!(paced ? put_paced(log.view(), r.pace) : put(r.log, log.view()))) return not_understood;
  if (r.truth.empty()) return done;
  std::ostringstream truth;
  invented::write_truth(test, truth);
  return put(r.truth, truth.view()) ? done : not_understood;
}

}  // namespace stilling::command
