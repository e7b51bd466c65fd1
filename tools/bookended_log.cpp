// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#include "bookended_log.hpp"

#include <fmt/format.h>

#include <memory>

#include "opening.hpp"
#include "stilling/finished/fresh_air.hpp"
#include "stilling/session.hpp"

namespace stilling::command {

std::vector<bookends> bookends_of(const log_options& o, std::string_view log) {
  const auto make = [](const session_settings& s) {
    return make_reader(s) | make_judge(s) | fresh_air{s};
  };
  using chain_type = decltype(make(session_settings{}));
  held_back<chain_type> first{o.settings};
  const auto start = [&]() -> std::unique_ptr<chain_type> {
    const auto fitted = fit(o, first.found());
    if (!fitted.refusal.empty()) return nullptr;
    return std::make_unique<chain_type>(make(fitted.settings));
  };
  std::vector<bookends> parts;
  const auto sink = overloaded{[&](const bookends& b) { parts.push_back(b); },
                               [](const auto&) {}};
  first.push(log, start, sink);
  first.finish(start, sink);
  return parts;
}

std::vector<std::string> drift_assumptions(const log_options& o, std::span<const bookends> parts,
                                           const presentation& as) {
  std::vector<std::string> out;
  if (!o.drift_correction) return out;
  if (!has_an_end(o)) {
    out.emplace_back("drift_correction: the log was live and its end not known, so nothing was "
                     "corrected; settle its record to correct it");
    return out;
  }
  for (std::size_t i = 0; i < parts.size(); ++i)
    for (const channel c : all_channels)
      if (parts[i].of.has(c))
        out.push_back(fmt::format("drift_correction: {}{}",
                                  parts.size() > 1 ? fmt::format("in part {} of the log ", i + 1)
                                                   : std::string{},
                                  words_of(c, parts[i].of[c], as)));
  if (out.empty())
    out.emplace_back("drift_correction: there is no reading of O2 or CO, so nothing was corrected");
  return out;
}

}  // namespace stilling::command
