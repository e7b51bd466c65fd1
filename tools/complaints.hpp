// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#pragma once

#include <fmt/format.h>

#include <string>
#include <string_view>

#include "judged_log.hpp"

// What is said on standard error about a log that could not be used, or not in full.

namespace stilling::command {

inline std::string name_of_log(std::string_view path) {
  return path.empty() || path == "-" ? "standard input" : std::string{path};
}

/// One line for each kind of fault, or for each line.
inline void report_rejections(const rejected_lines& lines, const log_summary& s, bool every,
                       std::string_view name, std::string& to) {
  if (s.rejections() == 0) return;
  to += fmt::format("{}: {} of {} lines could not be used in full{}\n", name, s.rejections(),
                    s.rows, every ? ":" : "; --verbose shows all. The first:");
  if (every) to += lines.every;
  for (std::size_t i = 0; i < fault_count && !every; ++i)
    if (s.rejected[i] > 0) to += fmt::format("  {} x {}", s.rejected[i], lines.first[i]);
}

inline std::string why_nothing_was_read(const log_summary& s, const rejected_lines& lines) {
  if (s.rejected[static_cast<std::size_t>(fault::no_layout)] == s.rows)
    return "no header was found. A log begins with a line such as\n"
           "  time_s,stack_temp_degF,ambient_temp_degF,o2_pct,co_ppm\n"
           "or other names are explained: --column 'Flue T=stack_temp:degF'\n"
           "or the positions are named: --fields time_s,stack_temp_degF,-,o2_pct,co_ppm";
  std::string why = "no row could be read. The first:\n";
  for (const auto& first : lines.first)
    if (!first.empty()) why += "  " + first;
  return why;
}

}  // namespace stilling::command
