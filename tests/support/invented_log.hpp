// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#pragma once

// An invented test as the laws need it: everything happens once, from fresh air to a cold flue,
// with the mishaps of a real log. The physics is plain: each quantity runs towards a target. Only
// + - x / so that every machine writes the same bytes.

#include <array>
#include <cstdint>
#include <cstdio>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "stilling/terms/time.hpp"

namespace stilling::invented {

/// Shown values in steps of the display: 1 degF, 1 degF, 0.1 %, 1 ppm, 0.001 inH2O.
struct shown_row {
  instant at{};
  std::array<std::optional<std::int64_t>, 5> cells{};
};
inline constexpr std::array<std::string_view, 5> canonical_names{
    "stack_temp_degF", "ambient_temp_degF", "o2_pct", "co_ppm", "draft_overfire_inH2O"};
inline constexpr std::array<double, 5> display_steps{1, 1, 0.1, 1, 0.001};

struct log_line {
  std::string text;           // without its end
  std::optional<instant> at;  // of a row with a stamp that can be read
};

struct log_options {
  std::uint32_t seed = 1;
  duration step = seconds(1);
  duration shift{};        // added to every stamp
  bool mishaps = true;     // spikes, blanks, damaged rows, a row sent twice, a silence
  bool clock_break = true; // the logger restarts near the end and its clock with it
};

class plant {
 public:
  explicit plant(const log_options& o) : options_{o}, noise_{o.seed} {}

  /// The next row; nothing once the test is over.
  std::optional<shown_row> next() {
    const double dt = in_seconds(options_.step), t = clock_;
    if (t > 2400) return std::nullopt;
    const bool lit = t >= 60 && t < 2000, probe_in = t >= 45;
    const bool more_air = t >= 1000;
    approach(stack_, !probe_in ? 70 : lit ? (more_air ? 492 : 470) : 90, lit ? 110 : 300, dt);
    approach(oxygen_, !probe_in || !lit ? 20.9 : more_air ? 6.5 : 5.0, 12, dt);
    approach(monoxide_, !probe_in || !lit ? 0 : t < 90 ? 180 : more_air ? 11 : 18, 25, dt);
    approach(draft_, lit ? -0.020 : -0.004, 20, dt);
    approach(waver_, 3 * around_zero(), 8, dt);
    const bool silent = options_.mishaps && t >= 1700 && t < 1790;
    clock_ += dt;
    ++rows_;
    if (silent) return next();
    shown_row row;
    row.at = instant{options_.shift} + (rows_ - 1) * options_.step;
    if (options_.clock_break && t >= 2200) row.at -= seconds(2200);
    row.cells = {rounded(stack_ + waver_ + 0.8 * around_zero(), 1), rounded(70.4, 1),
                 rounded(oxygen_ + 0.08 * around_zero(), 0.1),
                 rounded(monoxide_ + 1.2 * around_zero(), 1),
                 rounded(draft_ + 0.0015 * around_zero(), 0.001)};
    if (options_.mishaps && rows_ % 211 == 0) row.cells[0] = *row.cells[0] + 300;
    if (options_.mishaps && rows_ % 97 == 0) row.cells[3].reset();
    return row;
  }

 private:
  static void approach(double& x, double target, double tau, double dt) {
    x += (target - x) * (dt / (tau + dt));
  }
  /// Sum of uniform draws: bell-shaped enough, standard deviation near 1.
  double around_zero() {
    double sum = 0;
    for (int i = 0; i < 12; ++i) {
      noise_ = noise_ * 6364136223846793005U + 1442695040888963407U;
      sum += static_cast<double>(noise_ >> 40) / 16777216.0;
    }
    return sum - 6;
  }
  static std::int64_t rounded(double x, double step) {
    const double steps = x / step;
    return static_cast<std::int64_t>(steps < 0 ? steps - 0.5 : steps + 0.5);
  }

  log_options options_;
  std::uint64_t noise_;
  double clock_ = 0;
  std::int64_t rows_ = 0;
  double stack_ = 70, oxygen_ = 20.9, monoxide_ = 0, draft_ = -0.004, waver_ = 0;
};

/// Exact: whole seconds and up to nine decimals.
inline std::string written(instant t) {
  const auto ns = t.time_since_epoch().count();
  const auto size = ns < 0 ? -ns : ns;
  char text[40];
  std::snprintf(text, sizeof text, "%s%lld.%09lld", ns < 0 ? "-" : "",
                static_cast<long long>(size / nanoseconds_per_second),
                static_cast<long long>(size % nanoseconds_per_second));
  std::string s{text};
  while (s.back() == '0') s.pop_back();
  if (s.back() == '.') s.pop_back();
  return s;
}

inline std::string written(double x) {
  char text[40];
  std::snprintf(text, sizeof text, "%.17g", x);
  return text;
}

inline std::string canonical_row(const shown_row& row) {
  std::string s = written(row.at);
  for (std::size_t i = 0; i < row.cells.size(); ++i) {
    s += ',';
    if (!row.cells[i]) continue;
    char text[40];
    const int decimals = i == 2 ? 1 : i == 4 ? 3 : 0;
    std::snprintf(text, sizeof text, "%.*f", decimals,
                  static_cast<double>(*row.cells[i]) * display_steps[i]);
    s += text;
  }
  return s;
}

/// The whole log, line by line, in the canonical form.
inline std::vector<log_line> invented_log(const log_options& options = {}) {
  std::vector<log_line> log;
  const auto say = [&](std::string text) { log.push_back({std::move(text), std::nullopt}); };
  std::string header = "time_s";
  for (auto name : canonical_names) header += "," + std::string{name};
  say(header);
  say("# invented test, no appliance behind it");
  plant flue{options};
  std::size_t rows = 0;
  while (const auto row = flue.next()) {
    log.push_back({canonical_row(*row), row->at});
    ++rows;
    if (rows == 60) say("# burner on");
    if (rows == 1000) say("# adjusted air, a quarter turn open");
    if (!options.mishaps) continue;
    if (rows % 333 == 0) log.push_back(log.back());  // sent twice
    if (rows % 401 == 0) say(written(row->at + options.step / 2) + ",4x1,70,5.0,20,-0.02");
    if (rows % 499 == 0) say(written(row->at) + ",471");  // cut off
    if (rows % 601 == 0) say("");
  }
  return log;
}

inline std::string joined(const std::vector<log_line>& log, std::string_view line_end = "\n") {
  std::string bytes;
  for (const auto& line : log) bytes.append(line.text).append(line_end);
  return bytes;
}

}  // namespace stilling::invented
