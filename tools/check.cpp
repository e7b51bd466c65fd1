// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT

// How a log would be read, without judging it.

#include <fmt/format.h>

#include <memory>

#include "feeding.hpp"
#include "sources.hpp"
#include "survey.hpp"
#include "verbs.hpp"

namespace stilling::command {

int check(const check_request& r) {
  const auto log = std::make_unique<survey>(as_fed(r.log));
  const std::string name = r.file.empty() || r.file == "-" ? "standard input" : r.file;
  const auto fault = feed(r.file, r.log, true, *log, [] { return true; });
  if (!fault.empty()) complain(fmt::format("{}: {}", name, fault));
  if (!fault.empty() && log->bytes.bytes() == 0) return not_understood;
  std::string text;
  if (r.json) write_survey_json(text, *log, r.log, name);
  else write_survey(text, *log, r.log, name);
  outlet out;
  out.write(text);
  if (out.is() == outlet::state::failed) {
    complain(fmt::format("standard output: {}", out.fault()));
    return not_understood;
  }
  const auto& s = log->summary;
  if (!fault.empty()) return not_understood;
  if (s.frames > 0) return done;
  return s.rows > 0 || (!log->columns && !log->openings.empty()) ? not_understood : nothing_settled;
}

}  // namespace stilling::command
